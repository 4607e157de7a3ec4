// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/departments.hpp"

#include <algorithm>
#include <filesystem>

#include "sim/basics/file.hpp"

namespace redress::app {

namespace {

namespace fs = std::filesystem;

std::string find_shipped(const std::string& program_folder) {
  std::vector<std::string> places;
  if (!program_folder.empty()) {
    for (const char* place : {"/assets", "/../assets", "/../share/redress/assets"}) {
      places.push_back(program_folder + place);
    }
  }
  places.emplace_back("assets");
  places.emplace_back(std::string(REDRESS_SCENARIOS) + "/../assets");
  std::error_code ignored;
  for (const std::string& place : places) {
    if (fs::is_directory(place + "/departments", ignored)) return place + "/departments";
  }
  return "";
}

void add_from(const std::string& folder, std::vector<findings::Department>& all) {
  constexpr std::size_t kLargest = 64U * 1024U;
  std::error_code error;
  std::vector<std::string> paths;
  if (folder.empty() || !fs::is_directory(folder, error)) return;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
    if (entry.path().extension() == ".json") paths.push_back(entry.path().string());
  }
  std::sort(paths.begin(), paths.end());  // no two files of a folder have one name
  for (const std::string& path : paths) {
    const Result<std::string> text = read_file(path, kLargest);
    if (!text.ok()) continue;
    Result<findings::Department> department = findings::read_department_text(text.value());
    if (department.ok()) all.push_back(std::move(department).value());
  }
}

}  // namespace

std::vector<findings::Department> read_departments(const std::string& program_folder,
                                                   const std::string& config_folder) {
  std::vector<findings::Department> all;
  add_from(find_shipped(program_folder), all);
  if (!config_folder.empty()) add_from(config_folder + "/departments", all);
  return all;
}

std::optional<std::size_t> find_department(const std::vector<findings::Department>& all,
                                           const std::string& title) {
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].title == title) return i;
  }
  return std::nullopt;
}

}  // namespace redress::app
