// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// pack and unpack: cases handed on in one file.
#include <filesystem>

#include <fmt/format.h>

#include "sim/basics/file.hpp"
#include "sim/cases/pack.hpp"
#include "sim/program/verbs.hpp"

namespace redress::program {

namespace {

namespace fs = std::filesystem;

/// Something stands there already, be it a link that leads nowhere.
bool is_taken(const fs::path& path) {
  std::error_code error;
  return fs::symlink_status(path, error).type() != fs::file_type::not_found;
}

}  // namespace

int pack(const PackOptions& options) {
  if (const auto clash = check_paths(options.case_paths, {options.out_path})) {
    return report(options.out_path, *clash);
  }
  Pack pack{options.title, options.note, {}};
  int code = 0;
  for (const std::string& path : options.case_paths) {
    const Result<std::string> text = read_file(path);
    if (!text) {
      code = report(path, text.problems());
      continue;
    }
    pack.cases.push_back({fs::path(path).filename().string(), text.value(), {}});
  }
  if (code != 0) return code;
  const Result<std::string> text = write_pack(pack);
  if (!text) {
    for (const Problem& problem : text.problems()) {
      report(problem.place.empty() ? options.out_path : problem.place,
             Problem{"", problem.message});
    }
    return 1;
  }
  if (text.value().size() > kLargestPack) {
    return report(options.out_path, Problem{"", fmt::format("would have {} bytes; allowed: {}",
                                                            text.value().size(), kLargestPack)});
  }
  if (const auto problem = write_whole_file(options.out_path, text.value())) {
    return report(options.out_path, *problem);
  }
  fmt::print("{}: {} cases\n", options.out_path, pack.cases.size());
  return 0;
}

int unpack(const UnpackOptions& options) {
  const Result<std::string> text = read_file(options.pack_path, kLargestPack);
  if (!text) return report(options.pack_path, text.problems());
  const Result<Pack> read = read_pack(text.value());
  if (!read) return report(options.pack_path, read.problems());
  const Pack& pack = read.value();
  fmt::print("{}\n", pack.title);
  if (!pack.note.empty()) fmt::print("{}\n", pack.note);
  for (const PackedCase& packed : pack.cases) {
    fmt::print("  {}: {} ({:.0f} years)\n", packed.name, packed.content.title,
               packed.content.patient.age_years);
  }
  if (options.folder.empty()) {
    fmt::print("Nothing was written; --into FOLDER writes these {} files.\n", pack.cases.size());
    return 0;
  }
  const fs::path folder = options.folder;
  int code = 0;
  for (const PackedCase& packed : pack.cases) {
    if (!is_taken(folder / packed.name)) continue;
    code = report((folder / packed.name).string(),
                  Problem{"",
                          "is there already; nothing was written. Allowed: a folder without "
                          "files of these names"});
  }
  if (code != 0) return code;
  std::error_code error;
  fs::create_directories(folder, error);
  if (!fs::is_directory(folder, error)) {
    return report(options.folder, Problem{"", "cannot be made a folder; nothing was written"});
  }
  std::size_t written = 0;
  for (const PackedCase& packed : pack.cases) {
    if (const auto problem = write_whole_file((folder / packed.name).string(), packed.text)) {
      report((folder / packed.name).string(), *problem);
      fmt::print("{} of {} files were written.\n", written, pack.cases.size());
      return 1;
    }
    ++written;
  }
  fmt::print("{} files were written into {}.\n", written, options.folder);
  return 0;
}

}  // namespace redress::program
