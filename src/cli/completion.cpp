// A shell's completion walks the words so far to the command they name, then offers what can follow.
#include <fmt/format.h>

#include <memory>

#include "commands.hpp"
#include "described.hpp"

namespace linerwright {

namespace {

std::string joined(const std::vector<std::string>& words) {
  std::string all;
  for (const std::string& word : words) all += (all.empty() ? "" : " ") + word;
  return all;
}

std::vector<std::string> flags_of(const DescribedCommand& command) {
  std::vector<std::string> flags;
  for (const DescribedOption& option : command.options)
    if (!option.positional) flags.insert(flags.end(), option.names.begin(), option.names.end());
  return flags;
}

// What may stand in a command's place of words: commands below it, and the choices of what is no option.
std::vector<std::pair<std::string, std::string>> words_of(const DescribedCommand& command) {
  std::vector<std::pair<std::string, std::string>> words = command.subcommands;
  for (const DescribedOption& option : command.options)
    if (option.positional)
      for (const std::string& choice : option.choices) words.emplace_back(choice, option.text);
  return words;
}

// In single quotes for a shell; fish takes \', the others '\''.
std::string quoted(const std::string& text, bool fish = false) {
  std::string all = "'";
  for (const char c : text) {
    if (c == '\'')
      all += fish ? "\\'" : "'\\''";
    else
      all += c;
  }
  return all + "'";
}

// case patterns of every command that has others above it: "linerwright make"|"linerwright make elbow"
std::string all_paths(const std::vector<DescribedCommand>& commands, const char* between) {
  std::string all;
  for (std::size_t i = 1; i < commands.size(); ++i) all += (i > 1 ? between : "") + quoted(commands[i].path);
  return all;
}

std::string bash(const std::vector<DescribedCommand>& commands) {
  std::string text =
      "# bash completion of linerwright: linerwright completion bash\n_linerwright() {\n"
      "  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} at=linerwright word flags= "
      "names=\n"
      "  for word in \"${COMP_WORDS[@]:1:COMP_CWORD-1}\"; do\n    case \"$at $word\" in\n      ";
  text += all_paths(commands, "|") + ") at=\"$at $word\" ;;\n    esac\n  done\n  case \"$at $prev\" in\n";
  for (const DescribedCommand& command : commands)
    for (const DescribedOption& option : command.options)
      if (!option.choices.empty())
        text += fmt::format("    {}) COMPREPLY=($(compgen -W {} -- \"$cur\")); return ;;\n",
                            quoted(command.path + " " + option.names.back()), quoted(joined(option.choices)));
      else if (!option.value.empty() && !option.positional)
        text += fmt::format("    {}) return ;;\n", quoted(command.path + " " + option.names.back()));
  text += "  esac\n  case $at in\n";
  for (const DescribedCommand& command : commands) {
    std::vector<std::string> words;
    for (const auto& [word, about] : words_of(command)) words.push_back(word);
    text += fmt::format("    {}) flags={} names={} ;;\n", quoted(command.path),
                        quoted(joined(flags_of(command))), quoted(joined(words)));
  }
  return text +
         "  esac\n  case $cur in\n    -*) COMPREPLY=($(compgen -W \"$flags\" -- \"$cur\")) ;;\n"
         "    *) COMPREPLY=($(compgen -W \"$names\" -- \"$cur\")) ;;\n  esac\n}\n"
         "complete -o bashdefault -o default -F _linerwright linerwright\n";
}

std::string zsh(const std::vector<DescribedCommand>& commands) {
  std::string text =
      "#compdef linerwright\n# zsh completion of linerwright: linerwright completion zsh\n_linerwright() {\n"
      "  local at=linerwright word\n  local -a flags names\n"
      "  for word in ${words[2,CURRENT-1]}; do\n    case \"$at $word\" in\n      (";
  text += all_paths(commands, "|") +
          ") at=\"$at $word\" ;;\n    esac\n  done\n  case \"$at ${words[CURRENT-1]}\" in\n";
  for (const DescribedCommand& command : commands)
    for (const DescribedOption& option : command.options)
      if (!option.choices.empty())
        text += fmt::format("    ({}) compadd -- {}; return ;;\n",
                            quoted(command.path + " " + option.names.back()), joined(option.choices));
      else if (!option.value.empty() && !option.positional)
        text += fmt::format("    ({}) _files; return ;;\n", quoted(command.path + " " + option.names.back()));
  text += "  esac\n  case $at in\n";
  for (const DescribedCommand& command : commands) {
    text += fmt::format("    ({})\n", quoted(command.path));
    for (const DescribedOption& option : command.options)
      if (!option.positional)
        text += fmt::format("      flags+=({})\n", quoted(option.names.back() + ":" + option.text));
    for (const auto& [name, words] : words_of(command))
      text += fmt::format("      names+=({})\n", quoted(name + ":" + words));
    text += "      ;;\n";
  }
  return text +
         "  esac\n  if [[ ${words[CURRENT]} == -* ]]; then\n    _describe option flags\n  else\n"
         "    _describe command names\n    _files\n  fi\n}\n"
         "if [[ $zsh_eval_context[-1] == loadautofunc ]]; then\n  _linerwright \"$@\"\nelse\n"
         "  compdef _linerwright linerwright\nfi\n";
}

std::string fish(const std::vector<DescribedCommand>& commands) {
  std::string text =
      "# fish completion of linerwright: linerwright completion fish\nfunction __linerwright_at\n"
      "  set -l at linerwright\n  for word in (commandline -opc)[2..-1]\n    switch \"$at $word\"\n      "
      "case ";
  text += all_paths(commands, " ") +
          "\n        set at \"$at $word\"\n    end\n  end\n  test \"$at\" = \"$argv[1]\"\nend\n";
  for (const DescribedCommand& command : commands) {
    const std::string here =
        "complete -c linerwright -n " + quoted("__linerwright_at \"" + command.path + "\"", true);
    for (const auto& [name, words] : words_of(command))
      text += fmt::format("{} -a {} -d {}\n", here, name, quoted(words, true));
    for (const DescribedOption& option : command.options) {
      if (option.positional) continue;
      text += here;
      for (const std::string& name : option.names)
        text += name.rfind("--", 0) == 0 ? " -l " + name.substr(2) : " -s " + name.substr(1);
      if (!option.choices.empty())
        text += " -x -a " + quoted(joined(option.choices), true);
      else if (!option.value.empty())
        text += " -r";
      text += " -d " + quoted(option.text, true) + "\n";
    }
  }
  return text;
}

}  // namespace

std::string completion(const std::vector<DescribedCommand>& commands, const std::string& shell) {
  return shell == "fish" ? fish(commands) : shell == "zsh" ? zsh(commands) : bash(commands);
}

void add_completion(CLI::App& command, Program& program) {
  auto shell = std::make_shared<std::string>();
  command.add_option("SHELL", *shell, "bash, zsh or fish")
      ->required()
      ->check(CLI::IsMember({"bash", "zsh", "fish"}));
  command.callback([&program, shell] {
    program.action = [&program, shell] {
      fmt::print("{}", completion(described(program), *shell));
      return 0;
    };
  });
}

}  // namespace linerwright
