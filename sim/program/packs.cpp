// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// pack and unpack: cases handed on in one file.
#include <fmt/format.h>

#include "sim/program/pack_files.hpp"
#include "sim/program/verbs.hpp"

namespace redress::program {

namespace {

/// Each with its own file; 0: there are none.
int report_each(const Problems& problems) {
  for (const Problem& problem : problems) report(problem.place, Problem{"", problem.message});
  return problems.empty() ? 0 : 1;
}

}  // namespace

int pack(const PackOptions& options) {
  if (const auto clash = check_paths(options.case_paths, {options.out_path})) {
    return report(options.out_path, *clash);
  }
  const Problems problems =
      write_pack_of(options.case_paths, options.title, options.note, options.out_path);
  if (report_each(problems) != 0) return 1;
  fmt::print("{}: {} cases\n", options.out_path, options.case_paths.size());
  return 0;
}

int unpack(const UnpackOptions& options) {
  const Result<Pack> read = load_pack(options.pack_path);
  if (!read) return report(options.pack_path, read.problems());
  const Pack& pack = read.value();
  fmt::print("{}\n", pack.title);
  if (!pack.note.empty()) fmt::print("{}\n", pack.note);
  std::vector<NamedText> files;
  for (const PackedCase& packed : pack.cases) {
    fmt::print("  {}: {} ({:.0f} years)\n", packed.name, packed.content.title,
               packed.content.patient.age_years);
    files.emplace_back(packed.name, packed.text);
  }
  if (options.folder.empty()) {
    fmt::print("Nothing was written; --into FOLDER writes these {} files.\n", pack.cases.size());
    return 0;
  }
  if (report_each(put_into_folder(files, options.folder)) != 0) return 1;
  fmt::print("{} files were written into {}.\n", files.size(), options.folder);
  return 0;
}

}  // namespace redress::program
