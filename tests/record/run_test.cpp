// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The loop that runs a list of acts, and replaying what it recorded.
#include "sim/record/run.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "sim/record/file_sink.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"

using namespace redress;
using namespace redress::record;

namespace {

/// Somebody with ordinary reserves and a deviation of a few degrees.
ExaminationSetup some_setup() {
  ExaminationSetup setup;
  setup.patient.tonus.tonic_deg = -2.0;
  for (patient::Reserves* reserves :
       {&setup.patient.fusion.distance, &setup.patient.fusion.near}) {
    reserves->base_out = {std::nullopt, PrismDioptres{19}, PrismDioptres{10}};
    reserves->base_in = {std::nullopt, PrismDioptres{7}, PrismDioptres{4}};
  }
  return setup;
}

std::vector<Act> some_acts() {
  return {{0, act::ShowTarget{}},
          {300, act::Cover{Eye::left, OccluderKind::opaque, Side::above, 100}},
          {700, act::Ask{"clear"}},
          {1500, act::Uncover{}},
          {1500, act::Note{}}};
}

RunOptions options_until(std::optional<Tick> until) {
  RunOptions options;
  options.chance.seed = 11;
  options.until_ms = until;
  return options;
}

/// Keeps the order of everything that it is told.
struct Log {
  std::vector<std::string> lines;
  Tick rows = 0;
  bool rows_in_step = true;

  void row(const Observation& observation) {
    rows_in_step = rows_in_step && observation.at_ms == rows;
    ++rows;
  }
  void state(Tick at_ms, std::uint64_t) { put("state", at_ms); }
  void act(const Act& act) { put("act", act.at_ms); }
  void reply(const Reply& reply) { put("reply", reply.at_ms); }
  void end(Tick at_ms) { put("end", at_ms); }

 private:
  void put(const char* what, Tick at_ms) {
    lines.push_back(std::string(what) + " " + std::to_string(at_ms));
  }
};

std::string record_of(std::span<const Act> acts, std::optional<Tick> until) {
  std::ostringstream stream;
  const RunOptions options = options_until(until);
  RecordWriter writer(stream, make_header({{"title", "x"}}, options.chance.seed,
                                          options.chance.noise));
  FileSink sink{nullptr, &writer};
  run(some_setup(), acts, options, sink);
  REQUIRE_FALSE(writer.failed());
  return stream.str();
}

Record read(const std::string& text) {
  Result<Record> record = read_record(text);
  INFO((record.ok() ? std::string() : record.problems().front().message));
  REQUIRE(record.ok());
  return std::move(record).value();
}

}  // namespace

TEST_CASE("rows from 0 to the last tick, states every 250 ms, acts at their ticks") {
  Log log;
  const RunEnd end = run(some_setup(), some_acts(), options_until(2000), log);
  CHECK(end.at_ms == 2000);
  CHECK(end.acts == 5);
  CHECK(log.rows == 2001);
  CHECK(log.rows_in_step);
  // The answer comes when it is spoken, not when it is asked for: its tick is the room's affair.
  std::vector<std::string> without_reply;
  std::size_t replies = 0;
  for (const std::string& line : log.lines) {
    if (line.starts_with("reply")) {
      ++replies;
    } else {
      without_reply.push_back(line);
    }
  }
  CHECK(replies == 1);
  CHECK(without_reply ==
        std::vector<std::string>{"state 0", "act 0", "state 250", "act 300", "state 500",
                                 "act 700", "state 750", "state 1000", "state 1250", "state 1500",
                                 "act 1500", "act 1500", "state 1750", "state 2000", "end 2000"});
}

TEST_CASE("a run ends a second after the last act, or where it is told to") {
  struct Nothing {} nothing;
  CHECK(run(some_setup(), some_acts(), options_until(std::nullopt), nothing).at_ms == 2500);
  CHECK(run(some_setup(), {}, options_until(std::nullopt), nothing).at_ms == 1000);
  CHECK(run(some_setup(), {}, options_until(0), nothing).at_ms == 0);
  CHECK(run(some_setup(), {}, options_until(-5), nothing).at_ms == 0);
  // Acts of the last tick are still done, later ones not.
  CHECK(run(some_setup(), some_acts(), options_until(700), nothing).acts == 3);
  CHECK(run(some_setup(), some_acts(), options_until(699), nothing).acts == 2);
}

TEST_CASE("what a sink wants changes nothing in the examination") {
  struct Nothing {} nothing;
  Log log;
  const RunEnd alone = run(some_setup(), some_acts(), options_until(2000), nothing);
  const RunEnd watched = run(some_setup(), some_acts(), options_until(2000), log);
  CHECK(alone.hash == watched.hash);
}

TEST_CASE("a sink that fails stops the run and gets no end") {
  struct Failing {
    Tick last = -1;
    bool ended = false;
    void row(const Observation& observation) { last = observation.at_ms; }
    void end(Tick) { ended = true; }
    [[nodiscard]] bool failed() const { return last >= 40; }
  } sink;
  CHECK(run(some_setup(), some_acts(), options_until(2000), sink).at_ms == 40);
  CHECK_FALSE(sink.ended);
}

TEST_CASE("a recorded run replays, and its record is whole") {
  const std::string text = record_of(some_acts(), std::nullopt);
  CHECK(verify(text).whole());
  const Record record = read(text);
  CHECK(record.acts.size() == 5);
  CHECK(record.states.size() == 11);
  CHECK(record.end == Tick{2500});
  const ReplayVerdict verdict = replay(record, some_setup());
  INFO(verdict.message);
  CHECK(verdict.agrees);
  CHECK(verdict.states == 11);
  CHECK(verdict.replies == 1);
  CHECK(verdict.same_arithmetic);
  CHECK(record_of(some_acts(), std::nullopt) == text);
}

TEST_CASE("a run cut by its last tick replays too") {
  const Record record = read(record_of(some_acts(), 700));
  CHECK(record.acts.size() == 3);
  CHECK(replay(record, some_setup()).agrees);
}

TEST_CASE("a replay names the first difference") {
  const Record good = read(record_of(some_acts(), std::nullopt));

  Record changed = good;
  changed.states[4].second ^= 1U;
  ReplayVerdict verdict = replay(changed, some_setup());
  CHECK_FALSE(verdict.agrees);
  REQUIRE(verdict.difference.has_value());
  CHECK(verdict.difference->at_ms == 1000);
  CHECK(verdict.difference->what == "state");
  CHECK(verdict.states == 4);

  changed = good;
  changed.acts[1].at_ms = 301;
  verdict = replay(changed, some_setup());
  REQUIRE(verdict.difference.has_value());
  CHECK(verdict.difference->at_ms == 500);

  changed = good;
  changed.header.seed = 12;
  CHECK_FALSE(replay(changed, some_setup()).agrees);

  changed = good;
  changed.replies[0].answer = "something else";
  verdict = replay(changed, some_setup());
  REQUIRE(verdict.difference.has_value());
  CHECK(verdict.difference->what == "reply");
  CHECK(verdict.difference->at_ms == good.replies[0].at_ms);

  changed = good;
  changed.replies.clear();
  CHECK(replay(changed, some_setup()).difference->expected == "none");

  changed = good;
  changed.replies.push_back({2400, "jump", "still", "No."});
  CHECK(replay(changed, some_setup()).difference->got == "none");

  changed = good;
  changed.header.arithmetic = "0000000000000000";
  CHECK_FALSE(replay(changed, some_setup()).same_arithmetic);
}

TEST_CASE("a record cut short replays up to where it was cut") {
  const std::string text = record_of(some_acts(), std::nullopt);
  std::size_t readable = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\n') continue;
    const Result<CutRecord> cut = read_cut_record(text.substr(0, i + 1));
    REQUIRE(cut.ok());
    ++readable;
    const ReplayVerdict verdict = replay(cut.value().record, some_setup());
    INFO(verdict.message);
    CHECK(verdict.agrees);
    CHECK(verdict.states == cut.value().record.states.size());
  }
  CHECK(readable == 1 + 11 + 5 + 1 + 1);
}
