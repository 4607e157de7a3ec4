// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The program as others call it: exit codes, where messages go, files that appear whole or not at
// all, and records that replay.
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include <sys/wait.h>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "sim/basics/file.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

namespace {

namespace fs = std::filesystem;
using nlohmann::json;

struct Answer {
  int code = -1;
  std::string out;
  std::string err;
};

// A folder of its own for each test case.
class Desk {
 public:
  std::string at(const std::string& name) const { return folder_ / name; }
  std::string write(const std::string& name, const std::string& text) const {
    std::ofstream(at(name), std::ios::binary) << text;
    return at(name);
  }
  std::string read(const std::string& path) const {
    const auto text = redress::read_file(path);
    return text.ok() ? text.value() : std::string{};
  }
  Answer call(const std::string& arguments) const {
    const std::string command = redress::support::program_path() + " " + arguments + " >" +
                                at("out") + " 2>" + at("err") + " </dev/null";
    const int status = std::system(command.c_str());
    REQUIRE(WIFEXITED(status));  // never a crash
    return {WEXITSTATUS(status), read(at("out")), read(at("err"))};
  }

 private:
  redress::tests::TemporaryFolder folder_;
};

std::string shipped(const std::string& name) { return redress::support::scenario_path(name); }

const char* const kActs =
    R"({"at_ms": 0, "act": "show_target", "kind": "letters", "distance_m": 6, "size_logmar": 0.2}
{"at_ms": 1000, "act": "cover", "eye": "right"}
{"at_ms": 1500, "act": "ask", "what": "single_or_double"}
{"at_ms": 6000, "act": "uncover", "towards": "temporal"}
)";

}  // namespace

TEST_CASE("help and version answer 0, wrong usage 2") {
  const Desk desk;
  CHECK(desk.call("--help").code == 0);
  CHECK(desk.call("--version").out.find("redress ") == 0);
  for (const char* verb :
       {"validate", "truth", "simulate", "examine", "score", "replay", "verify", "bench"}) {
    INFO(verb);
    CHECK(desk.call(std::string{verb} + " --help").code == 0);
  }
  CHECK(desk.call("simulate").code == 2);
  CHECK(desk.call("sing").code == 2);
  CHECK(desk.call("truth --loud " + shipped("exophoria")).code == 2);
  for (const char* noise : {"-1", "nan", "inf", "-inf", "''", "1x", "10.5"}) {
    INFO(noise);
    const Answer answer = desk.call("examine " + shipped("exophoria") + " --noise " + noise);
    CHECK(answer.code == 2);
    CHECK(answer.err.find("allowed: a number from 0 to 10") != std::string::npos);
  }
}

TEST_CASE("a simulation leaves a trace and a record that verifies, replays and is scored") {
  const Desk desk;
  const std::string acts = desk.write("acts.jsonl", kActs);
  const Answer simulated =
      desk.call("simulate " + shipped("exophoria") + " --acts " + acts + " --seed 3 --trace " +
                desk.at("trace.csv") + " --record " + desk.at("exam.record"));
  INFO(simulated.err);
  REQUIRE(simulated.code == 0);
  CHECK(json::parse(simulated.out)["until_ms"] == 7000);
  const std::string trace = desk.read(desk.at("trace.csv"));
  CHECK(std::count(trace.begin(), trace.end(), '\n') == 7002);  // a header, rows 0 to 7000

  CHECK(desk.call("verify " + desk.at("exam.record")).code == 0);
  CHECK(desk.call("replay " + desk.at("exam.record")).code == 0);
  CHECK(desk.call("validate " + acts + " " + desk.at("exam.record")).code == 0);
  const Answer scored = desk.call("score " + desk.at("exam.record"));
  CHECK(scored.code == 0);
  CHECK(json::parse(scored.out)["total"].is_number());

  std::string altered = desk.read(desk.at("exam.record"));
  const std::size_t place = altered.find("\"at_ms\":1000");
  REQUIRE(place != std::string::npos);
  altered.replace(place, 12, "\"at_ms\":1001");
  desk.write("altered.record", altered);
  for (const char* verb : {"verify ", "replay ", "score "}) {
    const Answer answer = desk.call(verb + desk.at("altered.record"));
    CHECK(answer.code == 1);
    CHECK(answer.err.find("altered at line") != std::string::npos);
  }
  const std::string whole = desk.read(desk.at("exam.record"));
  desk.write("cut.record", whole.substr(0, whole.size() / 2));
  const Answer cut = desk.call("verify " + desk.at("cut.record"));
  CHECK(cut.code == 1);
  CHECK(cut.err.find("cut short") != std::string::npos);
  CHECK(desk.call("score " + desk.at("cut.record")).code == 1);
}

TEST_CASE("bad input is told with its place, exit code 1, and nothing is written") {
  const Desk desk;
  const std::string acts = desk.write("acts.jsonl", kActs);
  const std::string good = desk.read(shipped("exophoria"));
  struct Bad {
    const char* name;
    std::string text;
    const char* told;
  };
  const Bad bad[] = {
      {"empty", "", "is not JSON"},
      {"truncated", good.substr(0, good.size() / 2), "is not JSON"},
      {"deep", std::string(100000, '['), "nested too deeply"},
      {"newer", R"({"format":"redress-case","version":9,"title":"x","deviation":{}})",
       "newer version"},
      {"unknown key",
       R"({"format":"redress-case","version":1,"title":"x","deviation":{"distance":1}})",
       "/deviation/distance"},
      {"wrong type",
       R"({"format":"redress-case","version":1,"title":"x","deviation":{"distance_pd":"6"}})",
       "/deviation/distance_pd"},
      {"not a number",
       R"({"format":"redress-case","version":1,"title":"x","deviation":{"distance_pd":NaN}})",
       "is not JSON"},
      {"out of range",
       R"({"format":"redress-case","version":1,"title":"x","deviation":{"distance_pd":101}})",
       "-100 to 100"},
      {"contradiction",
       R"({"format":"redress-case","version":1,"title":"x",
           "deviation":{"distance_pd":-1,"near_pd":60}})",
       "/deviation"},
      {"a muscle stronger than any",
       R"({"format":"redress-case","version":1,"title":"x","deviation":{"distance_pd":-1},
           "muscles":{"right":{"lateral_rectus":{"strength":4}}}})",
       "/muscles/right/lateral_rectus/strength"},
  };
  for (const Bad& b : bad) {
    INFO(b.name);
    const std::string path = desk.write("bad.json", b.text);
    const Answer answer = desk.call("simulate " + path + " --acts " + acts + " --trace " +
                                    desk.at("no.csv") + " --record " + desk.at("no.record"));
    INFO(answer.err);
    CHECK(answer.code == 1);
    CHECK(answer.out.empty());
    CHECK(answer.err.find(path + ": ") == 0);
    CHECK(answer.err.find(b.told) != std::string::npos);
    CHECK_FALSE(fs::exists(desk.at("no.csv")));
    CHECK_FALSE(fs::exists(desk.at("no.record")));
  }
  const std::string wrong = desk.write("wrong.jsonl",
                                       "{\"at_ms\": 5, \"act\": \"cover\", \"eye\": \"rihgt\"}\n"
                                       "{\"at_ms\": 5, \"act\": \"cover\", \"eye\": \"left\"}\n"
                                       "{\"at_ms\": 2, \"act\": \"cover\", \"eye\": \"left\"}\n");
  const Answer answer = desk.call("simulate " + shipped("exophoria") + " --acts " + wrong +
                                  " --trace " + desk.at("no.csv"));
  CHECK(answer.code == 1);
  CHECK(answer.err.find("line 1 /eye") != std::string::npos);
  CHECK(answer.err.find("line 3 /at_ms") != std::string::npos);
  CHECK_FALSE(fs::exists(desk.at("no.csv")));
  CHECK(desk.call("truth " + desk.at("nowhere.json")).code == 1);
}

TEST_CASE("no output is written over an input or another output") {
  const Desk desk;
  const std::string acts = desk.write("acts.jsonl", kActs);
  const std::string the_case = desk.write("case.json", desk.read(shipped("exophoria")));
  const std::string before = desk.read(the_case);
  const std::string call = "simulate " + the_case + " --acts " + acts;
  CHECK(desk.call(call + " --record " + the_case).code == 1);
  CHECK(desk.call(call + " --trace " + acts).code == 1);
  CHECK(desk.call(call + " --trace " + desk.at("x") + " --record " + desk.at("./x")).code == 1);
  CHECK(desk.call("examine " + the_case + " --record " + the_case).code == 1);
  CHECK(desk.read(the_case) == before);
  CHECK(desk.read(acts) == kActs);
  CHECK_FALSE(fs::exists(desk.at("x")));
  CHECK(desk.call(call + " --noise nan").code == 2);
}

TEST_CASE("the truth is told in the published keys") {
  const Desk desk;
  const Answer answer = desk.call("truth " + shipped("right_esotropia"));
  REQUIRE(answer.code == 0);
  const json truth = json::parse(answer.out);
  for (const char* key :
       {"conditions", "gaze", "head_tilt", "comitant", "largest_change_pd", "suppression_eye",
        "ac_a_gradient_pd_per_d", "ac_a_heterophoria_pd_per_d", "reserves", "near_point_cm",
        "control_score", "four_dioptre", "recovery", "diagnosis", "urgency"}) {
    INFO(key);
    CHECK(truth.contains(key));
  }
  bool found = false;
  for (const json& c : truth["conditions"]) {
    if (c["distance_m"] != 6.0) continue;
    found = true;
    CHECK(c["horizontal_pd"].get<double>() == Approx(20.0).margin(0.05));
    CHECK(c["manifest"] == "constant");
    CHECK(c["deviating_eye"] == "right");
  }
  CHECK(found);
}

TEST_CASE("a pack tells what is inside, and is unpacked whole or not at all") {
  const Desk desk;
  const std::string cases = shipped("exophoria") + " " + shipped("no_deviation");
  REQUIRE(desk.call("pack " + cases + " --title Week1 --out " + desk.at("week.json")).code == 0);
  const Answer inside = desk.call("unpack " + desk.at("week.json"));
  CHECK(inside.code == 0);
  CHECK(inside.out.find("exophoria.json") != std::string::npos);
  CHECK(inside.out.find("Nothing was written") != std::string::npos);
  CHECK(desk.call("validate " + desk.at("week.json")).code == 0);

  const std::string into = "unpack " + desk.at("week.json") + " --into " + desk.at("cases");
  REQUIRE(desk.call(into).code == 0);
  CHECK(desk.read(desk.at("cases/exophoria.json")) == desk.read(shipped("exophoria")));

  // What stands there is never written over, be it a link to somewhere else.
  fs::remove(desk.at("cases/exophoria.json"));
  fs::create_symlink(desk.at("elsewhere"), desk.at("cases/no_deviation_2.json"));
  fs::remove(desk.at("cases/no_deviation.json"));
  fs::create_symlink(desk.at("elsewhere"), desk.at("cases/no_deviation.json"));
  const Answer refused = desk.call(into);
  CHECK(refused.code == 1);
  CHECK(refused.err.find("is there already") != std::string::npos);
  CHECK_FALSE(fs::exists(desk.at("cases/exophoria.json")));
  CHECK_FALSE(fs::exists(desk.at("elsewhere")));
  CHECK(desk.call("unpack " + shipped("exophoria")).code == 1);
}
