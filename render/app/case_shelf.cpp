// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/case_shelf.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <iterator>
#include <utility>

#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"

namespace redress::app {

namespace {

namespace fs = std::filesystem;

bool is_case_file(const fs::path& path) {
  const std::string name = path.filename().string();
  return path.extension() == ".json" && name.find("schema") == std::string::npos;
}

}  // namespace

std::string find_cases_folder(const std::string& given, const std::string& program_folder) {
  std::error_code ignored;
  if (!given.empty()) return given;
  if (const char* named = std::getenv("REDRESS_CASES"); named != nullptr && named[0] != '\0') {
    return named;
  }
  std::vector<std::string> places;
  if (!program_folder.empty()) {
    places.push_back(program_folder + "/scenarios");
    places.push_back(program_folder + "/../scenarios");
    places.push_back(program_folder + "/../share/redress/scenarios");
  }
  places.emplace_back("scenarios");
  places.emplace_back(REDRESS_SCENARIOS);
  for (const std::string& place : places) {
    if (fs::is_directory(place, ignored)) return place;
  }
  return "";
}

Result<ShelvedCase> read_shelved_case(const std::string& path) {
  const Result<std::string> text = read_file(path, JsonLimits{}.size_bytes);
  if (!text.ok()) return text.problems();
  Result<nlohmann::json> json = parse_json(text.value());
  if (!json.ok()) return json.problems();
  Result<Case> content = parse_case(json.value());
  if (!content.ok()) return content.problems();
  ShelvedCase shelved;
  shelved.path = path;
  shelved.key = fs::path(path).stem().string();
  shelved.content = std::move(content).value();
  shelved.written = std::move(json).value();
  shelved.goal = shelved.content.teaching.goal;
  shelved.level = shelved.content.teaching.level;
  shelved.step = shelved.content.teaching.step;
  return shelved;
}

CaseShelf read_case_shelf(const std::string& folder) {
  CaseShelf shelf;
  if (folder.empty()) {
    shelf.trouble = "No folder of cases was found. Name one in REDRESS_CASES.";
    return shelf;
  }
  std::error_code error;
  std::vector<std::string> paths;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
    if (is_case_file(entry.path())) paths.push_back(entry.path().string());
  }
  if (error) {
    shelf.trouble = "The folder of cases cannot be read: " + error.message();
    return shelf;
  }
  std::sort(paths.begin(), paths.end());
  std::vector<std::string> bad;
  for (const std::string& path : paths) {
    Result<ShelvedCase> read = read_shelved_case(path);
    if (read.ok()) {
      shelf.cases.push_back(std::move(read).value());
      shelf.cases.back().written = nullptr;  // read again with the file when it is used
    } else {
      bad.push_back(fs::path(path).filename().string());
    }
  }
  std::stable_sort(
      shelf.cases.begin(), shelf.cases.end(), [](const ShelvedCase& a, const ShelvedCase& b) {
        const int last = 99;  // what does not say comes at the end
        const auto place = [](int n) { return n == 0 ? last : n; };
        return std::pair{place(a.step), place(a.level)} < std::pair{place(b.step), place(b.level)};
      });
  if (!bad.empty()) {
    shelf.trouble = "Not read (redress validate says why): ";
    for (std::size_t i = 0; i < bad.size(); ++i) shelf.trouble += (i > 0 ? ", " : "") + bad[i];
  }
  return shelf;
}

void add_own_cases(CaseShelf& shelf, const std::string& folder) {
  std::error_code error;
  if (folder.empty() || !fs::is_directory(folder, error)) return;
  CaseShelf own = read_case_shelf(folder);
  for (ShelvedCase& each : own.cases) each.own = true;
  shelf.cases.insert(shelf.cases.begin(), std::make_move_iterator(own.cases.begin()),
                     std::make_move_iterator(own.cases.end()));
  if (shelf.trouble.empty()) shelf.trouble = own.trouble;
}

}  // namespace redress::app
