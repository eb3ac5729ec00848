// The manual page from the same words that --help prints.
#include <fmt/format.h>

#include <algorithm>

#include "commands.hpp"
#include "described.hpp"

namespace linerwright {

namespace {

// Text for the man macros: no line begins with a dot or quote, backslashes and hyphens are written out.
std::string plain(const std::string& text) {
  std::string all;
  for (const char c : text) {
    if (c == '\\')
      all += "\\e";
    else if (c == '-')
      all += "\\-";
    else if ((c == '.' || c == '\'') && (all.empty() || all.back() == '\n'))
      all += std::string("\\&") + c;
    else
      all += c;
  }
  return all;
}

std::string option_text(const DescribedOption& option) {
  std::string names;
  for (const std::string& name : option.names) names += (names.empty() ? "\\fB" : "\\fR, \\fB") + plain(name);
  const bool value = !option.value.empty() && !option.positional;
  std::string text =
      ".TP\n" + names + (value ? " \\fI" + plain(option.value) + "\\fR" : "\\fR") + "\n" + plain(option.text);
  // many texts name their choices themselves
  const bool named =
      std::all_of(option.choices.begin(), option.choices.end(),
                  [&](const std::string& choice) { return option.text.find(choice) != std::string::npos; });
  if (!named) {
    text += " (";
    for (const std::string& choice : option.choices) text += (text.back() == '(' ? "" : ", ") + plain(choice);
    text += ")";
  }
  return text + "\n";
}

std::string options_text(const DescribedCommand& command) {
  std::string text;
  std::string group = "Options";
  for (const DescribedOption& option : command.options) {
    if (option.group != group) text += ".PP\n\\fI" + plain(option.group) + "\\fR\n";
    group = option.group;
    text += option_text(option);
  }
  return text;
}

std::string usage(const DescribedCommand& command) {
  std::string text = "\\fB" + plain(command.path) + "\\fR [\\fIOPTIONS\\fR]";
  for (const DescribedOption& option : command.options)
    if (option.positional) {
      const std::string name = "\\fI" + plain(option.names.front()) + "\\fR";
      text += option.required ? " " + name : " [" + name + "]";
    }
  return text;
}

}  // namespace

std::string manual(const std::vector<DescribedCommand>& commands, const std::string& footer) {
  std::string text = ".TH LINERWRIGHT 1 \"\" \"linerwright " LINERWRIGHT_VERSION "\" \"User Commands\"\n";
  text += ".SH NAME\nlinerwright \\- fibrous liner for round duct fittings\n.SH SYNOPSIS\n";
  for (std::size_t i = 1; i < commands.size(); ++i)
    text += (i > 1 ? ".br\n" : "") + usage(commands[i]) + "\n";
  text += ".SH DESCRIPTION\n" + plain(commands.front().text) + "\n";
  text +=
      ".PP\nA job file holds fittings, the liner and the units; \\fBlinerwright sample\\fR prints one that "
      "works as it "
      "stands.\n";
  text += ".SH OPTIONS\n" + options_text(commands.front()) + ".SH COMMANDS\n";
  for (std::size_t i = 1; i < commands.size(); ++i) {
    const std::string options = options_text(commands[i]);
    text += ".SS " + plain(commands[i].path) + "\n" + plain(commands[i].text) + ".\n";
    const auto same =
        std::find_if(commands.begin(), commands.begin() + static_cast<std::ptrdiff_t>(i),
                     [&](const DescribedCommand& other) { return options_text(other) == options; });
    if (same == commands.begin() + static_cast<std::ptrdiff_t>(i))
      text += options;
    else
      text += ".PP\nThe same options as \\fB" + plain(same->path) + "\\fR.\n";
  }
  text +=
      ".SH FILES\n.TP\n\\fImodels\\-out/\\fR\nResults, a folder for each fitting: patterns (DXF), solids "
      "(STL, STEP), "
      "tables (CSV), \\fIfitting.json\\fR; beside them the totals of the job.\n.SH EXAMPLES\n.nf\n"
      "linerwright sample > job.toml\nlinerwright make job.toml\nlinerwright check models\\-out\n"
      "linerwright make elbow \\-\\-diameter 24in \\-\\-angle 90 \\-\\-pieces 5 \\-\\-liner 1in\n.fi\n.SH "
      "NOTES\n";
  return text + plain(footer) + "\n";
}

void add_manual(CLI::App& command, Program& program) {
  command.callback([&program] {
    program.action = [&program] {
      fmt::print("{}", manual(described(program), program.app.get_footer()));
      return 0;
    };
  });
}

}  // namespace linerwright
