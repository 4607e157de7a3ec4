// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A real record of ten minutes, every bit of it: whatever is flipped, cut or moved is noticed, at
// its line. The lines before have been found good once and are not looked at again for each change
// (verify_on), or this would take days.
#include <catch2/catch.hpp>

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/record/close_record.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"
#include "sim/record/verify_on.hpp"
#include "sim/record/write_run.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::record;

namespace {

constexpr Tick kTenMinutes = 600'000;

std::vector<Act> acts_of_ten_minutes() {
  std::vector<Act> acts{{0, act::ShowTarget{}}};
  for (Tick t = 1000; t + 4000 < kTenMinutes; t += 4000) {
    const Eye eye = t % 8000 == 1000 ? Eye::right : Eye::left;
    acts.push_back({t, act::Cover{eye}});
    acts.push_back({t + 1500, act::Uncover{}});
    if (t % 20'000 == 1000) acts.push_back({t + 3000, act::Ask{"single_or_double"}});
  }
  return acts;
}

const std::string& ten_minutes() {
  static const std::string text = [] {
    const auto the_case = testing::least_case();
    std::ostringstream out;
    const ExaminationSetup setup = setup_of(parse_case(the_case).value());
    REQUIRE_FALSE(
        write_run(out, the_case, setup, {1, 1.0, true}, acts_of_ten_minutes(), kTenMinutes));
    return out.str();
  }();
  return text;
}

/// The verdict on the first lines, for each number of them: what is so far good.
std::vector<Verdict> verdicts_so_far(const std::string& text) {
  std::vector<Verdict> all{{}};
  for (std::size_t at = text.find('\n'); at != std::string::npos; at = text.find('\n', at + 1)) {
    all.push_back(verify_on(std::string_view(text).substr(0, at + 1), all.back()));
  }
  return all;
}

}  // namespace

TEST_CASE("a record of ten minutes: every flipped bit is noticed at its line") {
  std::string text = ten_minutes();
  const std::vector<Verdict> so_far = verdicts_so_far(text);
  REQUIRE(so_far.back().whole());
  REQUIRE(so_far.size() > 2700);  // 2401 states, and what was done and said
  REQUIRE(so_far.back().chain == verify(text).chain);
  std::size_t unnoticed = 0;
  std::size_t misplaced = 0;
  std::size_t line = 1;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char as_it_was = text[i];
    for (unsigned bit = 0; bit < 8; ++bit) {
      text[i] = static_cast<char>(static_cast<unsigned char>(as_it_was) ^ (1U << bit));
      const Verdict verdict = verify_on(text, so_far[line - 1]);
      if (verdict.whole() || verdict.wholeness == Wholeness::cut_short) ++unnoticed;
      if (verdict.line != line) ++misplaced;
    }
    text[i] = as_it_was;
    if (as_it_was == '\n') ++line;
  }
  CHECK(unnoticed == 0);
  CHECK(misplaced == 0);
}

TEST_CASE("a record of ten minutes: every cut is told, every line moved, doubled or lost noticed") {
  std::string text = ten_minutes();
  const std::vector<Verdict> so_far = verdicts_so_far(text);
  std::size_t line = 1;
  std::size_t wrong = 0;
  for (std::size_t size = 1; size < text.size(); ++size) {
    const Verdict verdict = verify_on(std::string_view(text).substr(0, size), so_far[line - 1]);
    const bool between = text[size - 1] == '\n';
    const std::size_t good = between ? line : line - 1;
    if (verdict.wholeness != Wholeness::cut_short || verdict.good_lines != good) ++wrong;
    if (between) ++line;
  }
  CHECK(wrong == 0);

  // Neighbours change places, a line is there twice or not at all: at each of the lines.
  const auto at_line = [&](std::size_t n) {
    return static_cast<std::ptrdiff_t>(so_far[n - 1].good_bytes);
  };
  std::size_t unnoticed = 0;
  const std::size_t lines = so_far.size() - 1;
  for (std::size_t n = 2; n < lines; ++n) {
    const auto first = text.begin() + at_line(n);
    const auto second = text.begin() + at_line(n + 1);
    const auto third = text.begin() + static_cast<std::ptrdiff_t>(so_far[n + 1].good_bytes);
    const auto back = std::rotate(first, second, third);
    if (verify_on(text, so_far[n - 1]).line != n) ++unnoticed;
    std::rotate(text.begin() + at_line(n), back, third);
    // After line n comes n again; instead of line n comes n + 1.
    if (verify_on(text,
                  [&] {
                    Verdict twice = so_far[n];
                    twice.good_bytes = so_far[n - 1].good_bytes;
                    return twice;
                  }())
            .line != n + 1) {
      ++unnoticed;
    }
    Verdict without = so_far[n - 1];
    without.good_bytes = so_far[n].good_bytes;
    if (verify_on(text, without).line != n) ++unnoticed;
  }
  CHECK(text == ten_minutes());
  CHECK(unnoticed == 0);
}

TEST_CASE("a record cut anywhere is closed where it ends, and replays as far as it goes") {
  const std::string& text = ten_minutes();
  const ExaminationSetup setup = setup_of(parse_case(testing::least_case()).value());
  CHECK(close_record(text).value() == text);
  // Within the first 20 s: cheap to replay.
  const std::size_t until = text.find("{\"at_ms\":20000,\"state\"");
  REQUIRE(until != std::string::npos);
  const std::size_t begun = text.find('\n', text.find("\"state\"")) + 1;
  for (std::size_t size = begun; size < until; size += 701) {
    const auto closed = close_record(std::string_view(text).substr(0, size));
    INFO(size);
    REQUIRE(closed.ok());
    const auto record = read_record(closed.value());
    REQUIRE(record.ok());
    const ReplayVerdict replayed = replay(record.value(), setup);
    INFO(replayed.message);
    CHECK(replayed.agrees);
    // No more than what came last of all is left out.
    const auto cut = read_cut_record(std::string_view(text).substr(0, size));
    CHECK(record.value().acts.size() == cut.value().record.acts.size());
    CHECK(record.value().states.size() == cut.value().record.states.size());
  }
  // After its first reply, which may not have been the only one of its tick.
  const std::size_t reply = text.find("\"reply\":{");
  REQUIRE(reply != std::string::npos);
  const auto after = close_record(std::string_view(text).substr(0, text.find('\n', reply) + 1));
  REQUIRE(after.ok());
  CHECK(read_record(after.value()).value().replies.empty());
  CHECK(replay(read_record(after.value()).value(), setup).agrees);
  // Before the patient was there, and what is altered.
  CHECK_FALSE(close_record(std::string_view(text).substr(0, text.find('\n') + 1)).ok());
  std::string altered = text;
  altered[text.size() / 2] ^= 1;
  CHECK_FALSE(close_record(altered).ok());
}
