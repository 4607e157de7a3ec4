// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The program itself, without a screen: it draws what it should, and where no window can be had it
// says so in one line and answers 1.
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "sim/basics/file.hpp"
#include "tests/render/program_run.hpp"
#include "tests/render/screen_pixels.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

using redress::test::Answer;
using redress::test::find_record;
using redress::test::kOffscreen;
using redress::test::read_lines;
using redress::tests::TemporaryFolder;

namespace {

Answer run(const std::string& environment, const std::string& arguments) {
  return redress::test::run_program(environment, arguments);
}

bool is_png(const std::string& path) {
  const auto bytes = redress::read_file(path);
  return bytes.ok() && bytes.value().starts_with("\x89PNG");
}

}  // namespace

TEST_CASE("the program says that it has a window") { CHECK(run("", "--has-window").code == 0); }

TEST_CASE("no display, no OpenGL 3.3, a window of no size or a huge one: one line, exit code 1") {
  const TemporaryFolder own;
  const std::string folder = "--own-folder " + own.path();
  const std::array<std::pair<std::string, std::string>, 6> cases{{
      {"", folder},
      {"SDL_VIDEODRIVER=x11", folder},
      {"SDL_VIDEODRIVER=dummy", folder},
      {kOffscreen + " MESA_GL_VERSION_OVERRIDE=2.1", folder},
      {kOffscreen, folder + " --width 0 --height 0"},
      {kOffscreen, folder + " --width 20000 --height 100"},
  }};
  for (const auto& [environment, arguments] : cases) {
    const Answer answer = run(environment, arguments);
    INFO(environment << " " << arguments << ": " << answer.said);
    CHECK(answer.code == 1);
    CHECK(answer.said.find("redress: ") != std::string::npos);
  }
}

TEST_CASE("the smallest windows draw without falling over") {
  const TemporaryFolder own;
  for (const std::string size :
       {"--width 1 --height 1", "--width 64 --height 900", "--width 1600 --height 40"}) {
    for (const std::string screen : {"cases", "calibrate", "examine"}) {
      const Answer answer = run(kOffscreen, "--own-folder " + own.path() + " " + size +
                                                " --screen " + screen + " --frames 3");
      INFO(size << " " << screen << ": " << answer.said);
      CHECK(answer.code == 0);
    }
  }
}

TEST_CASE("a scale that is none is wrong usage, told with what is allowed") {
  const TemporaryFolder own;
  for (const std::string scale : {"nan", "inf", "-1", "''", "0.5", "2.5", "large"}) {
    const Answer answer = run(
        kOffscreen, "--own-folder " + own.path() + " --screen parts --frames 1 --scale " + scale);
    INFO(scale << ": " << answer.said);
    CHECK(answer.code == 2);
    CHECK(answer.said.starts_with("--scale: "));
    CHECK(answer.said.find("allowed: a number from 1 to 2") != std::string::npos);
  }
}

TEST_CASE("every screen can be drawn to a file") {
  const TemporaryFolder own;
  for (const std::string screen : {"first-run", "calibrate", "cases", "examine"}) {
    for (const std::string theme : {"light", "dim"}) {
      for (const std::string scale : {"1", "2"}) {
        const std::string file = own.path() + "/" + screen + theme + scale + ".png";
        const Answer answer = run(
            kOffscreen, "--own-folder " + own.path() + " --width 1280 --height 720 --step-ms 16" +
                            " --frames 4 --screen " + screen + " --theme " + theme + " --scale " +
                            scale + " --screenshot " + file);
        INFO(file << ": " << answer.said);
        CHECK(answer.code == 0);
        CHECK(is_png(file));
      }
    }
  }
}

TEST_CASE("the first run is asked once, then the cases come") {
  const TemporaryFolder own;
  std::ofstream(own.path() + "/first.txt")
      << "50 click I teach\n100 click name\n200 type Wanda Ilves\n400 click Next\n"
         "600 click wider\n800 click Done, show me a patient\n";
  const Answer first =
      run(kOffscreen, "--own-folder " + own.path() + " --script " + own.path() + "/first.txt");
  INFO(first.said);
  REQUIRE(first.code == 0);
  const auto kept = redress::read_file(own.path() + "/preferences.json");
  REQUIRE(kept.ok());
  CHECK(kept.value().find("Wanda Ilves") != std::string::npos);
  CHECK(kept.value().find("teaching") != std::string::npos);
  CHECK(kept.value().find("pixels_per_mm") != std::string::npos);
  std::ofstream(own.path() + "/second.txt") << "50 click Tamsin Oakley, 22\n";
  CHECK(run(kOffscreen, "--own-folder " + own.path() + " --script " + own.path() + "/second.txt")
            .code == 0);
}

namespace {

// Made by hand once: mouse and keys, every 8 to 40 ms, between frames as they fall.
constexpr const char* kByHand =
    "300 move 300 250\n400 press\n405 move 290 260\n413 move 270 280\n429 move 240 290\n"
    "1500 move 300 290\n1511 move 380 285\n1530 move 500 285\n1900 wheel 1\n1907 wheel 1\n"
    "2600 move 505 200\n2604 release\n3500 key A\n4300 key Space\n5200 key W\n"
    "6000 key F 1 E E\n6411 key E\n6900 key A\n7903 key Space\n8907 key Space\n"
    "9911 key Space\n9950 key Q\n10300 key W\n11000 key F6\n11213 key X 7\n11900 move 260 200\n"
    "11903 press\n12301 release\n12317 press\n12350 move 200 210\n13001 release\n"
    "13500 key Pad4\n14001 key Ctrl Right\n14500 key R\n15000 key A\n";
constexpr int kLongEnoughMs = 15000;

struct MadeRecord {
  std::string acts;
  std::vector<std::string> states;  // every 250 ms: the hash of everything
};

MadeRecord make_record(const std::string& rhythm) {
  const TemporaryFolder own;
  std::ofstream(own.path() + "/hand.txt") << kByHand;
  const Answer answer =
      run(kOffscreen, "--own-folder " + own.path() + " --width 640 --height 360 --seed 3" +
                          " --screen examine --script " + own.path() + "/hand.txt " + rhythm);
  INFO(rhythm << ": " << answer.said);
  REQUIRE(answer.code == 0);
  const std::string path = find_record(own.path());
  MadeRecord made;
  for (const nlohmann::json& line : read_lines(path)) {
    if (line.contains("act")) made.acts += line.dump() + "\n";
    // The chain over all lines before is in each line: states and replies are in their places too.
    if (line.contains("state") && line["at_ms"] <= kLongEnoughMs) {
      made.states.push_back(line.dump());
    }
  }
  CHECK(run("", "verify " + path).code == 0);
  const Answer replayed = run("", "replay " + path);
  INFO(replayed.said);
  CHECK(replayed.code == 0);
  return made;
}

}  // namespace

TEST_CASE("one record from one hand at 30, 60, 144 frames a second, with frames early and late") {
  const MadeRecord at_60 = make_record("--step-ms 16.6666667");
  CHECK(std::count(at_60.acts.begin(), at_60.acts.end(), '\n') > 60);
  REQUIRE(at_60.states.size() == kLongEnoughMs / 250 + 1);
  for (const std::string rhythm :
       {"--step-ms 33.3333333", "--step-ms 6.9444444", "--step-ms 16.6666667 --jitter 7",
        "--step-ms 33.3333333 --jitter 8", "--step-ms 140"}) {
    INFO(rhythm);
    const MadeRecord other = make_record(rhythm);
    CHECK(other.acts == at_60.acts);
    // Of the last state: everything that the hand did has told by then.
    CHECK(other.states == at_60.states);
  }
}

namespace {

struct Seen {
  std::string record;
  redress::draw::Pixels picture;
};

/// An examination of 2.7 s in which something happens to the graphics at 1.5 s.
Seen examine_with(const std::string& event, const std::string& rhythm = "") {
  const TemporaryFolder own;
  const std::string shot = own.path() + "/shot.png";
  std::ofstream(own.path() + "/hand.txt") << "300 key A\n900 key Space\n"
                                          << event << "2400 shot " << shot << "\n2500 key W\n"
                                          << "2700 key F\n";
  const Answer answer =
      run(kOffscreen, "--own-folder " + own.path() + " --width 1280 --height 720 --seed 4" +
                          " --screen examine --script " + own.path() + "/hand.txt " + rhythm);
  INFO(event << answer.said);
  REQUIRE(answer.code == 0);
  const std::string record = find_record(own.path());
  CHECK(run("", "verify " + record).code == 0);
  CHECK(run("", "replay " + record).code == 0);
  const auto picture = redress::test::read_png(shot);
  REQUIRE(picture.has_value());
  return {redress::read_file(record).value(), *picture};
}

}  // namespace

TEST_CASE("a context that is lost is made anew: same picture, same record") {
  const Seen undisturbed = examine_with("");
  const Seen lost = examine_with("1500 lose graphics\n");
  CHECK(lost.record == undisturbed.record);
  // All but the message line, which says so, and the lids: those that were there before stay where
  // they are until they have moved by a quarter of a pixel.
  REQUIRE(lost.picture.height == 720);
  double sum = 0;
  for (int y = 0; y < 600; ++y) {
    for (int x = 0; x < 1280; ++x) {
      const auto a = lost.picture.at(x, y);
      const auto b = undisturbed.picture.at(x, y);
      if (a == b) continue;
      for (std::size_t k = 0; k < 3; ++k) sum += std::abs(int{a[k]} - int{b[k]});
    }
  }
  INFO(sum << " of all levels");
  CHECK(sum < 0.05 * 1280 * 600);
}

TEST_CASE("a context can be lost again and again, and before the first frame") {
  const Seen undisturbed = examine_with("");
  const Seen lost = examine_with("0 lose graphics\n1000 lose graphics\n1010 lose graphics\n");
  CHECK(lost.record == undisturbed.record);
}

TEST_CASE("on a screen of more pixels a point everything is larger, and the record the same") {
  const Seen here = examine_with("");
  const Seen there = examine_with("1500 screen 1.5\n");
  CHECK(there.record == here.record);
  CHECK((there.picture.rgb != here.picture.rgb));
  const Seen back = examine_with("1500 screen 1.5\n1900 screen 1\n");
  CHECK(back.record == here.record);
}

TEST_CASE("the occluder is in the hand that the mouse is in, and the record the same") {
  const auto lift = [](const std::string& hand) {
    const TemporaryFolder own;
    const std::string shot = own.path() + "/shot.png";
    std::ofstream(own.path() + "/preferences.json")
        << R"({"format": "redress-preferences", "version": 1, "first_run_done": true, )"
        << R"("mouse_hand": ")" << hand << "\"}";
    std::ofstream(own.path() + "/hand.txt")
        << "300 move 640 300\n600 press left\n900 move 640 180\n1200 shot " << shot
        << "\n1300 release left\n";
    const Answer answer =
        run(kOffscreen, "--own-folder " + own.path() + " --width 1280 --height 720 --seed 4" +
                            " --screen examine --script " + own.path() + "/hand.txt");
    INFO(hand << ": " << answer.said);
    REQUIRE(answer.code == 0);
    const auto picture = redress::test::read_png(shot);
    REQUIRE(picture.has_value());
    return Seen{redress::read_file(find_record(own.path())).value(), *picture};
  };
  const Seen right = lift("right");
  const Seen left = lift("left");
  CHECK(left.record == right.record);
  int unlike = 0;  // in the patient's picture: captions of keys are mirrored too
  for (int y = 60; y < 600; ++y) {
    for (int x = 0; x < 850; ++x) unlike += left.picture.at(x, y) == right.picture.at(x, y) ? 0 : 1;
  }
  CHECK(unlike > 1000);
}

TEST_CASE("a script that clicks on what is not there fails") {
  const TemporaryFolder own;
  std::ofstream(own.path() + "/s.txt") << "50 click Nothing of that name\n";
  const Answer answer = run(kOffscreen, "--own-folder " + own.path() + " --screen cases --script " +
                                            own.path() + "/s.txt");
  CHECK(answer.code == 1);
  CHECK(answer.said.find("Nothing of that name") != std::string::npos);
}

TEST_CASE("redress picture draws a moment, and says what is wrong with its input") {
  const TemporaryFolder own;
  const std::string exophoria = redress::support::scenario_path("exophoria");
  std::ofstream(own.path() + "/acts.jsonl")
      << R"({"at_ms":100,"act":"cover","eye":"right","travel_ms":100})"
      << "\n";
  const std::string open = own.path() + "/open.png";
  const std::string covered = own.path() + "/covered.png";
  CHECK(
      run("", "picture " + exophoria + " --at-ms 50 --width 320 --height 180 --out " + open).code ==
      0);
  const Answer with_acts =
      run("", "picture " + exophoria + " --acts " + own.path() +
                  "/acts.jsonl --at-ms 900 --width 320 --height 180 --out " + covered);
  INFO(with_acts.said);
  CHECK(with_acts.code == 0);
  CHECK(is_png(open));
  CHECK(is_png(covered));
  CHECK(redress::read_file(open).value() != redress::read_file(covered).value());

  CHECK(run("", "picture " + own.path() + "/none.json --at-ms 0 --out " + open).code == 1);
  CHECK(run("", "picture " + exophoria + " --at-ms 0 --out /nowhere/at/all.png").code == 1);
  CHECK(run("", "picture " + exophoria + " --at-ms 0 --width 0 --out " + open).code == 2);
  CHECK(run("", "picture " + exophoria + " --out " + open).code == 2);
}
