// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/pack_files.hpp"

#include <filesystem>
#include <set>

#include <fmt/format.h>

#include "sim/basics/file.hpp"

namespace redress::program {

namespace {

namespace fs = std::filesystem;

/// Something stands there already, be it a link that leads nowhere.
bool is_taken(const fs::path& path) {
  std::error_code error;
  const fs::file_type type = fs::symlink_status(path, error).type();
  // Where nothing can be asked (none), writing says why.
  return type != fs::file_type::not_found && type != fs::file_type::none;
}

Problems check_names(const std::vector<NamedText>& files, const fs::path& folder) {
  Problems problems;
  std::set<std::string> names;
  for (const auto& [name, text] : files) {
    const std::string path = (folder / name).string();
    if (!is_pack_name(name)) {
      problems.push_back({path, "is no name for a case; nothing was written"});
    } else if (!names.insert(name).second) {
      problems.push_back({path, "comes twice; nothing was written. Allowed: each name once"});
    } else if (is_taken(folder / name)) {
      problems.push_back({path,
                          "is there already; nothing was written. Allowed: a folder without files "
                          "of these names"});
    }
  }
  return problems;
}

}  // namespace

Result<Pack> load_pack(const std::string& path) {
  const Result<std::string> text = read_file(path, kLargestPack);
  if (!text) return text.problems();
  return read_pack(text.value());
}

Problems put_into_folder(const std::vector<NamedText>& files, const std::string& folder) {
  if (Problems problems = check_names(files, folder); !problems.empty()) return problems;
  std::error_code error;
  fs::create_directories(folder, error);
  if (!fs::is_directory(folder, error)) {
    return {{folder, "cannot be made a folder; nothing was written"}};
  }
  for (std::size_t i = 0; i < files.size(); ++i) {
    const std::string path = (fs::path(folder) / files[i].first).string();
    const auto problem = write_whole_file(path, files[i].second);
    if (!problem) continue;
    for (std::size_t k = 0; k < i; ++k) fs::remove(fs::path(folder) / files[k].first, error);
    return {{path, problem->message + "; nothing was left there"}};
  }
  return {};
}

Problems write_pack_of(const std::vector<std::string>& case_paths, const std::string& title,
                       const std::string& note, const std::string& out_path) {
  Pack pack{title, note, {}};
  Problems problems;
  for (const std::string& path : case_paths) {
    const Result<std::string> text = read_file(path);
    if (!text) {
      for (const Problem& p : text.problems()) problems.push_back({path, p.message});
      continue;
    }
    pack.cases.push_back({fs::path(path).filename().string(), text.value(), {}});
  }
  if (!problems.empty()) return problems;
  const Result<std::string> text = write_pack(pack);
  if (!text) {
    for (const Problem& p : text.problems()) {
      problems.push_back({p.place.empty() ? out_path : p.place, p.message});
    }
    return problems;
  }
  if (text.value().size() > kLargestPack) {
    return {{out_path,
             fmt::format("would have {} bytes; allowed: {}", text.value().size(), kLargestPack)}};
  }
  if (const auto problem = write_whole_file(out_path, text.value())) {
    return {{out_path, problem->message}};
  }
  return {};
}

}  // namespace redress::program
