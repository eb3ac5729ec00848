// The program's commands and options as data, for manual page and completions.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "program.hpp"

namespace linerwright {

struct DescribedOption {
  std::vector<std::string> names;  // "-h", "--help"; of a positional "JOB"
  std::string value;               // "LENGTH"; empty: takes none
  std::vector<std::string> choices;
  std::string text;
  std::string group;  // "Options", "The liner"
  bool positional = false;
  bool required = false;
};

struct DescribedCommand {
  std::string path;  // "linerwright make elbow"
  std::string text;
  std::vector<DescribedOption> options;
  std::vector<std::pair<std::string, std::string>> subcommands;  // name and text
};

// The program, all of whose options are made up by this, then every command with those below it; none that is
// hidden.
std::vector<DescribedCommand> described(Program& program);

// Completion for "bash", "zsh" or "fish".
std::string completion(const std::vector<DescribedCommand>& commands, const std::string& shell);
// The manual page, section 1, in the man macros; `footer` are the closing lines of --help.
std::string manual(const std::vector<DescribedCommand>& commands, const std::string& footer);

}  // namespace linerwright
