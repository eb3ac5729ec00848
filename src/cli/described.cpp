#include "described.hpp"

#include <algorithm>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

namespace {

// The words a key of a kind or of the liner may take.
std::vector<std::string> choices_of_key(const std::string& kind, const std::string& flag) {
  const auto find = [&](const std::vector<KeySpec>& keys) -> std::vector<std::string> {
    for (const KeySpec& key : keys) {
      std::string name = "--" + key.name;
      std::replace(name.begin(), name.end(), '_', '-');
      if (name == flag) return key.choices;
    }
    return {};
  };
  for (const KindSchema& schema : job_schema().kinds)
    if (schema.kind == kind)
      if (std::vector<std::string> choices = find(schema.keys); !choices.empty()) return choices;
  return find(job_schema().liner_keys);
}

// Of "TEXT:{mm,in}".
std::vector<std::string> choices_in(const std::string& type) {
  std::vector<std::string> choices;
  const std::size_t open = type.find('{');
  const std::size_t close = type.find('}');
  if (open == std::string::npos || close == std::string::npos) return choices;
  for (std::size_t from = open + 1; from < close;) {
    const std::size_t to = std::min(type.find(',', from), close);
    choices.push_back(type.substr(from, to - from));
    from = to + 1;
  }
  return choices;
}

DescribedOption described(const CLI::Option& option, const std::string& command) {
  DescribedOption made;
  made.positional = option.get_positional();
  if (made.positional) made.names.push_back(option.get_name(true, false));
  for (const std::string& name : option.get_snames()) made.names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) made.names.push_back("--" + name);
  made.text = option.get_description();
  made.group = option.get_group();
  made.required = option.get_required();
  if (option.get_type_size() == 0) return made;
  const std::string type = option.get_type_name();
  made.value = type.substr(0, type.find(':'));
  made.choices = choices_in(type);
  if (made.choices.empty() && !made.positional) made.choices = choices_of_key(command, made.names.back());
  return made;
}

void add(const CLI::App& command, const std::string& path, std::vector<DescribedCommand>& all) {
  DescribedCommand made;
  made.path = path;
  made.text = command.get_description();
  for (const CLI::Option* option : command.get_options({}))
    if (!option->get_group().empty()) made.options.push_back(described(*option, command.get_name()));
  const std::vector<const CLI::App*> below =
      command.get_subcommands([](const CLI::App* sub) { return !sub->get_group().empty(); });
  for (const CLI::App* sub : below) made.subcommands.emplace_back(sub->get_name(), sub->get_description());
  all.push_back(std::move(made));
  for (const CLI::App* sub : below) add(*sub, path + " " + sub->get_name(), all);
}

}  // namespace

std::vector<DescribedCommand> described(Program& program) {
  program.make_up_all();
  std::vector<DescribedCommand> all;
  add(program.app, "linerwright", all);
  return all;
}

}  // namespace linerwright
