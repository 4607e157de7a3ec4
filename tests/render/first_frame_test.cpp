// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The window shows its first frame before it has read a case, and the list when it has. No clock:
// the file of the case is a pipe that nobody writes into before that frame was shown.
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <string>
#include <thread>

#include <catch2/catch.hpp>

#include "tests/render/program_run.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::test;
using redress::tests::TemporaryFolder;

namespace {

bool is_there(const std::string& path) {
  std::error_code ignored;
  return std::filesystem::exists(path, ignored) && std::filesystem::file_size(path, ignored) > 0;
}

}  // namespace

TEST_CASE("the first frame waits for no case, and the list comes when it is read", "[window]") {
  const TemporaryFolder own;
  const std::string folder = own.path() + "/shelf";
  const std::string parts = own.path() + "/parts.jsonl";
  std::filesystem::create_directories(folder);
  REQUIRE(mkfifo((folder + "/late.json").c_str(), 0600) == 0);
  const auto text = read_file(support::scenario_path("exophoria"));
  REQUIRE(text.ok());
  bool shown_first = false;
  std::atomic<bool> over = false;
  // Whoever opens the pipe gets all of the case, each time, but nobody before the first frame.
  std::thread writer([&] {
    constexpr int kTries = 3000;  // of 20 ms, and then it is written in any case
    for (int i = 0; i < kTries && !shown_first && !over; ++i) {
      shown_first = is_there(parts);
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    while (!over) {
      const int pipe = open((folder + "/late.json").c_str(), O_WRONLY | O_NONBLOCK);
      if (pipe >= 0) {
        (void)!write(pipe, text.value().data(), text.value().size());
        close(pipe);
      }
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
  });
  const Answer answer =
      run_program(kOffscreen, "--own-folder " + own.path() + " --cases " + folder +
                                  " --screen cases --width 1280 --height 720 --frames 150" +
                                  " --parts-file " + parts);
  over = true;
  writer.join();
  INFO(answer.said);
  REQUIRE(answer.code == 0);
  CHECK(shown_first);
  const std::vector<nlohmann::json> frames = read_lines(parts);
  REQUIRE(frames.size() >= 2);
  const std::string name = "Idris Penhale, 26";
  CHECK(frames.front().dump().find("Your path") != std::string::npos);
  CHECK(frames.front().dump().find(name) == std::string::npos);
  CHECK(frames.front().dump().find("There are no cases") == std::string::npos);
  CHECK(frames.back().dump().find(name) != std::string::npos);
}
