// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Reading files for the verbs, and telling what is wrong with them.
#include <algorithm>
#include <cstdio>
#include <filesystem>

#include <fmt/format.h>

#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/program/verbs.hpp"

namespace redress::program {

int report(const std::string& path, const Problems& problems) {
  for (const Problem& p : problems) {
    const std::string place = p.place.empty() ? "" : p.place + ": ";
    fmt::print(stderr, "{}: {}{}\n", path, place, p.message);
  }
  return 1;
}

int report(const std::string& path, const Problem& problem) {
  return report(path, Problems{problem});
}

std::optional<Problem> check_paths(const std::vector<std::string>& inputs,
                                   const std::vector<std::string>& outputs) {
  const auto whole = [](const std::string& path) {
    std::error_code error;
    const auto canonical = std::filesystem::weakly_canonical(path, error);
    return error ? path : canonical.string();
  };
  std::vector<std::string> taken;
  for (const std::string& path : inputs) taken.push_back(whole(path));
  for (const std::string& path : outputs) {
    if (path.empty()) continue;
    const std::string here = whole(path);
    if (std::find(taken.begin(), taken.end(), here) != taken.end()) {
      return Problem{"", "would be written over another file of this command: " + path};
    }
    taken.push_back(here);
  }
  return std::nullopt;
}

Result<LoadedCase> load_case(const std::string& path) {
  const Result<std::string> text = read_file(path);
  if (!text) return text.problems();
  const Result<nlohmann::json> json = parse_json(text.value());
  if (!json) return json.problems();
  const Result<Case> content = parse_case(json.value());
  if (!content) return content.problems();
  return LoadedCase{content.value(), json.value()};
}

Result<record::Record> load_record(const std::string& path) {
  const Result<std::string> text = read_file(path);
  if (!text) return text.problems();
  return record::read_record(text.value());
}

}  // namespace redress::program
