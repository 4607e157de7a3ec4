// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/take_in.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "render/app/machine_clock.hpp"
#include "sim/assessment/hand_in_queue.hpp"
#include "sim/assessment/kept_station.hpp"
#include "sim/basics/file.hpp"

namespace redress::app {

namespace as = assessment;
namespace fs = std::filesystem;

TakenIn take_in(as::Store& store, const as::CircuitId& circuit, const std::string& folder,
                bool cut_short_too) {
  TakenIn taken;
  if (folder.empty()) return taken;
  std::vector<fs::path> paths;
  std::error_code error;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
    if (entry.path().extension() == ".station") paths.push_back(entry.path());
  }
  if (error) {
    taken.remarks.push_back("“" + folder + "” cannot be read: " + error.message() + ".");
    return taken;
  }
  std::sort(paths.begin(), paths.end());  // paths of one folder differ
  as::HandInQueue queue(store, [&](const std::string& name, const Result<bool>& is_new) {
    if (!is_new) {
      taken.remarks.push_back(name + " was not taken in: " + is_new.problems().front().message +
                              ".");
    } else if (is_new.value()) {
      ++taken.added;
    }
  });
  const std::string now = write_local_time(read_machine_clocks().utc_ms);
  std::size_t cut = 0;
  std::size_t others = 0;
  for (const fs::path& path : paths) {
    Result<std::string> text = read_file(path.string());
    const std::string name = path.filename().string();
    if (!text) {
      taken.remarks.push_back(name + " " + text.problems().front().message + ".");
      continue;
    }
    const as::Standing standing = as::verify_station(text.value(), circuit).standing;
    if (standing == as::Standing::other_circuit) {
      ++others;
    } else if (standing == as::Standing::cut_short && !cut_short_too) {
      ++cut;
    } else {
      queue.add(name, {std::move(text).value(), now});  // what is altered is refused and told
    }
  }
  queue.flush();
  if (cut > 0) {
    taken.remarks.push_back(fmt::format(
        "{} in “{}” {} cut short and not taken in: resume, or tick “Also what was cut short”.",
        cut == 1 ? "One station" : fmt::format("{} stations", cut), folder,
        cut == 1 ? "is" : "are"));
  }
  if (others > 0) {
    taken.remarks.push_back(
        fmt::format("{} in “{}” {} of another circuit.",
                    others == 1 ? "One station" : fmt::format("{} stations", others), folder,
                    others == 1 ? "is" : "are"));
  }
  return taken;
}

}  // namespace redress::app
