// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The time of a window that somebody leads: it stands, goes on by what it is told, in frames, and
// refuses what is no time.
#include "render/app/led_clock.hpp"

#include <catch2/catch.hpp>

#include <fstream>
#include <stdexcept>
#include <string>

#include "tests/support/temporary_folder.hpp"

using redress::app::LedClock;
using redress::tests::TemporaryFolder;

TEST_CASE("a led clock stands, and goes on by as much as it is told") {
  const TemporaryFolder folder;
  const std::string path = folder.path() + "/clock";
  std::ofstream leader(path);
  LedClock clock(path);
  clock.listen();
  CHECK(clock.stands());
  CHECK_FALSE(clock.go_on());
  leader << "250\n7" << std::flush;
  clock.listen();
  CHECK(clock.go_on());
  CHECK(clock.now_ms() == 250);
  CHECK(clock.stands());  // half a line is none yet
  leader << "00\n300\n" << std::flush;
  clock.listen();
  int frames = 0;
  while (clock.go_on()) ++frames;
  CHECK(clock.now_ms() == 1250);
  CHECK(frames == 3);  // none longer than a room makes up for at once
}

TEST_CASE("a led clock refuses what is no time, and a pipe that is not there") {
  const TemporaryFolder folder;
  CHECK_THROWS_AS(LedClock(folder.path() + "/none"), std::runtime_error);
  for (const char* const line : {"soon\n", "-5\n", "3600001\n", "5 \n", "\n"}) {
    INFO(line);
    const std::string path = folder.path() + "/clock";
    std::ofstream(path) << line;
    LedClock clock(path);
    CHECK_THROWS_WITH(clock.listen(), Catch::Contains("allowed: 0 to 3600000 ms"));
    CHECK(clock.stands());
  }
}
