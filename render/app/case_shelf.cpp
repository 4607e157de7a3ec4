// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/case_shelf.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <future>
#include <iterator>
#include <map>
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

struct ReadPart {
  std::vector<ShelfEntry> entries;
  std::vector<std::string> bad;  // names of files
};

ReadPart read_part(const std::vector<std::string>& paths, std::size_t first, std::size_t last) {
  ReadPart part;
  for (std::size_t i = first; i < last; ++i) {
    const Result<std::string> text = read_file(paths[i], JsonLimits{}.size_bytes);
    Result<CaseHead> head = text.ok() ? read_case_head(text.value()) : text.problems();
    if (head.ok()) {
      part.entries.push_back(
          {paths[i], fs::path(paths[i]).stem().string(), std::move(head).value(), false});
    } else {
      part.bad.push_back(fs::path(paths[i]).filename().string());
    }
  }
  return part;
}

/// In the order of the paths.
std::vector<ReadPart> read_in_parts(const std::vector<std::string>& paths) {
  constexpr std::size_t kMany = 200;  // below it a thread costs more than it brings
  std::vector<ReadPart> parts;
  if (paths.size() < kMany) {
    parts.push_back(read_part(paths, 0, paths.size()));
    return parts;
  }
  const std::size_t half = paths.size() / 2;
  auto later = std::async(std::launch::async, [&] { return read_part(paths, half, paths.size()); });
  parts.push_back(read_part(paths, 0, half));
  parts.push_back(later.get());
  return parts;
}

std::string write_bad(const std::vector<std::string>& names) {
  constexpr std::size_t kNamed = 5;
  std::string words = "Not read (redress validate says why): ";
  for (std::size_t i = 0; i < std::min(names.size(), kNamed); ++i) {
    words += (i > 0 ? ", " : "") + names[i];
  }
  if (names.size() > kNamed) {
    words += " and " + std::to_string(names.size() - kNamed) + " more";
  }
  return words;
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
  std::sort(paths.begin(), paths.end());  // no two files of a folder have one name
  std::vector<std::string> bad;
  for (ReadPart& part : read_in_parts(paths)) {
    std::move(part.entries.begin(), part.entries.end(), std::back_inserter(shelf.cases));
    std::move(part.bad.begin(), part.bad.end(), std::back_inserter(bad));
  }
  std::stable_sort(shelf.cases.begin(), shelf.cases.end(),
                   [](const ShelfEntry& a, const ShelfEntry& b) {
                     const int last = 99;  // what does not say comes at the end
                     const auto place = [](int n) { return n == 0 ? last : n; };
                     return std::pair{place(a.head.step), place(a.head.level)} <
                            std::pair{place(b.head.step), place(b.head.level)};
                   });
  if (!bad.empty()) shelf.trouble = write_bad(bad);
  return shelf;
}

void add_own_cases(CaseShelf& shelf, const std::string& folder) {
  std::error_code error;
  if (folder.empty() || !fs::is_directory(folder, error)) return;
  CaseShelf own = read_case_shelf(folder);
  for (ShelfEntry& each : own.cases) each.own = true;
  shelf.cases.insert(shelf.cases.begin(), std::make_move_iterator(own.cases.begin()),
                     std::make_move_iterator(own.cases.end()));
  if (shelf.trouble.empty()) shelf.trouble = own.trouble;
}

std::vector<screens::CaseRow> make_case_rows(const CaseShelf& shelf,
                                             const std::vector<DoneExamination>& done) {
  struct Done {
    int times = 0;
    int best = 0;
    std::string last;
  };
  std::map<std::string, Done> by_case;
  const std::string today = find_today();
  for (const DoneExamination& each : done) {
    Done& of_case = by_case[each.case_key];
    ++of_case.times;
    of_case.best = std::max(of_case.best, static_cast<int>(each.total));
    of_case.last = describe_date(each.date, today);
  }
  std::vector<screens::CaseRow> rows;
  rows.reserve(shelf.cases.size());
  for (const ShelfEntry& each : shelf.cases) {
    screens::CaseRow row;
    row.file = each.path;
    row.name = each.head.name;
    row.age_years = each.head.age_years;
    row.complaint = each.head.title;
    row.goal = each.head.goal;
    row.level = each.head.level;
    row.step = each.head.step;
    row.own = each.own;
    if (const auto found = by_case.find(each.key); found != by_case.end()) {
      row.times_done = found->second.times;
      row.best = found->second.best;
      row.last = found->second.last;
    }
    row.searched = screens::make_searched(row);
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace redress::app
