// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Text that is no case at all: cut, altered, nested, stuffed. Never a crash, always a reason.
#include <catch2/catch.hpp>
#include <rapidcheck.h>
#include <string>

#include "sim/cases/case_file.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;
using nlohmann::json;

namespace {

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

// Either a case that can be written and read again, or reasons one can print on a line each.
bool is_answered(const std::string& text) {
  const Result<Case> result = read_case_text(text);
  if (result) return parse_case(to_json(result.value())).ok();
  if (result.problems().empty()) return false;
  for (const Problem& problem : result.problems()) {
    if (problem.message.empty()) return false;
    if ((problem.place + problem.message).find('\n') != std::string::npos) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("a case cut anywhere is refused") {
  const std::string whole = shipped_case("intermittent_exotropia");
  REQUIRE(whole.size() > 1000);
  const std::size_t last_brace = whole.rfind('}');
  for (std::size_t length = 0; length <= last_brace; length += length < 200 ? 1 : 50) {
    INFO(length);
    const Result<Case> result = read_case_text(whole.substr(0, length));
    REQUIRE_FALSE(result.ok());
    CHECK(result.problems()[0].message.find("is not JSON: line ") == 0);
  }
}

TEST_CASE("numbers that JSON or a double cannot hold are refused") {
  const std::string whole = shipped_case("exophoria");
  const std::string before = "\"distance_pd\": -6";
  for (const std::string bad : {"NaN", "nan", "Infinity", "-Infinity", "1e999", "-1e999", "+6",
                                "0x6", ".5", "6,0"}) {
    INFO(bad);
    CHECK_FALSE(read_case_text(replaced(whole, before, "\"distance_pd\": " + bad)).ok());
  }
  CHECK(read_case_text(replaced(whole, before, "\"distance_pd\": -6.0e0")).ok());
}

TEST_CASE("a key given twice is refused") {
  const std::string whole = shipped_case("exophoria");
  const std::string before = "\"near_pd\": -9,";
  const Result<Case> result =
      read_case_text(replaced(whole, before, before + " \"distance_pd\": -6,"));
  REQUIRE_FALSE(result.ok());
  CHECK(is_only_problem(result.problems(), "/deviation/distance_pd", "twice"));
}

TEST_CASE("a deeply nested case is refused, also inside a good one") {
  const std::string deep = std::string(100000, '[');
  CHECK(is_only_problem(read_case_text(deep).problems(), "", "nested too deeply"));
  const std::string whole = shipped_case("exophoria");
  const std::string inside = replaced(whole, "[13, 21, 13]", deep + std::string(100000, ']'));
  CHECK(is_only_problem(read_case_text(inside).problems(), "", "nested too deeply"));
}

TEST_CASE("a very large file and a very large object are refused briefly") {
  CHECK(is_only_problem(read_case_text(std::string(9 * 1024 * 1024, ' ')).problems(), "",
                        "is too large"));
  json value = least_case();
  for (int i = 0; i < 10000; ++i) value["unknown_" + std::to_string(i)] = i;
  const Problems problems = problems_of(value);
  CHECK(problems.size() < 100);
  CHECK(problems.back().message.find("more unknown keys") != std::string::npos);
}

TEST_CASE("a case with random faults never crashes the reader") {
  const std::string whole = shipped_case("microtropia");
  const std::string lively = "{}[]\",:-.eE0123456789 \n\\utfn";
  REQUIRE(rc::check("bytes changed, put in, taken out", [&] {
    std::string text = whole;
    const int faults = *rc::gen::inRange(1, 30);
    for (int i = 0; i < faults; ++i) {
      const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
      const bool is_lively = *rc::gen::arbitrary<bool>();
      const char byte = is_lively ? *rc::gen::elementOf(lively) : *rc::gen::arbitrary<char>();
      switch (*rc::gen::inRange(0, 4)) {
        case 0: text[at] = byte; break;
        case 1: text.insert(at, 1, byte); break;
        case 2: text.erase(at, 1); break;
        default: text.insert(at, text.substr(at / 2, 40)); break;
      }
      RC_ASSERT(is_answered(text));
    }
  }));
}

TEST_CASE("a case with any value anywhere is read or refused") {
  const json whole = json::parse(shipped_case("microtropia"));
  const json flat = whole.flatten();
  std::vector<std::string> places;
  for (const auto& [place, value] : flat.items()) places.push_back(place);
  REQUIRE(places.size() > 40);
  REQUIRE(rc::check("values exchanged", [&] {
    json changed = whole;
    const int faults = *rc::gen::inRange(1, 12);
    for (int i = 0; i < faults; ++i) {
      const std::string place = *rc::gen::elementOf(places);
      json value;
      switch (*rc::gen::inRange(0, 7)) {
        case 0: value = nullptr; break;
        case 1: value = *rc::gen::arbitrary<bool>(); break;
        case 2: value = *rc::gen::arbitrary<std::int64_t>(); break;
        case 3: value = *rc::gen::inRange(-200, 200) * 0.5; break;
        case 4: value = json::array({*rc::gen::inRange(-9, 99), nullptr, "x"}); break;
        case 5: value = json::object({{"eye", "left"}}); break;
        default: value = "right"; break;
      }
      changed[json::json_pointer(place)] = value;
      RC_ASSERT(is_answered(changed.dump()));
    }
  }));
}
