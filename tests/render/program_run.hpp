// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Starts the program itself, without a display, and takes what it answers.
#pragma once

#include <sys/wait.h>

#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "sim/basics/file.hpp"
#include "tests/support/places.hpp"

namespace redress::test {

struct Answer {
  int code = -1;
  std::string said;
};

inline const std::string kOffscreen = "SDL_VIDEODRIVER=offscreen";

inline Answer run_program(const std::string& environment, const std::string& arguments) {
  const std::string command = "env -u DISPLAY -u WAYLAND_DISPLAY -u SDL_VIDEODRIVER " +
                              environment + " timeout 280 '" + support::program_path() + "' " +
                              arguments + " 2>&1";
  Answer answer;
  std::FILE* pipe = popen(command.c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::array<char, 4096> buffer{};
  while (std::fgets(buffer.data(), buffer.size(), pipe) != nullptr) answer.said += buffer.data();
  const int status = pclose(pipe);
  answer.code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  return answer;
}

/// The record in an own folder; there must be one.
inline std::string find_record(const std::string& own_folder) {
  std::vector<std::string> found;
  for (const auto& file : std::filesystem::directory_iterator(own_folder + "/records")) {
    found.push_back(file.path().string());
  }
  REQUIRE(found.size() == 1);
  return found.front();
}

/// The lines of a file of JSON lines; the last may be torn.
inline std::vector<nlohmann::json> read_lines(const std::string& path) {
  const auto text = read_file(path);
  REQUIRE(text.ok());
  std::vector<nlohmann::json> all;
  std::istringstream lines(text.value());
  for (std::string line; std::getline(lines, line);) {
    auto value = nlohmann::json::parse(line, nullptr, false);
    if (!value.is_discarded()) all.push_back(std::move(value));
  }
  return all;
}

}  // namespace redress::test
