// What a folder that this program made says it holds.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "linerwright/output/output.hpp"
#include "linerwright/units/seal.hpp"

namespace linerwright {

// The file that says what a folder of this name holds: boards.json, fitting.json or run.json.
const char* proof_of(const std::string& stem, Shelf shelf);
// What the proof of a folder called `stem`, which lies at `folder`, lists, itself included; a proof that
// somebody changed has a digest that no file has. Nothing where there is no proof, or where it is not of this
// program and this name.
std::optional<Contents> contents_of(const std::filesystem::path& folder, const std::string& stem,
                                    Shelf shelf = Shelf::fittings);
// The folder has a proof of these bytes that lists the files of `digests`, and they are still what was
// written.
bool holds_these(const std::filesystem::path& folder, const std::string& stem, Shelf shelf,
                 const Contents& digests, const std::string& proof);

// All bytes of a file. Throws WriteError.
std::string bytes_of_file(const std::filesystem::path& file);
// digest() of a file's bytes, without holding them. Throws WriteError.
std::string digest_of_file(const std::filesystem::path& file);
// The text of a JSON file of a size and depth that results have; nothing for any other, or for none.
std::optional<std::string> json_text_of(const std::filesystem::path& file);

}  // namespace linerwright
