// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The vocabulary of plans. Parts: practice §2.13, and common practice, no source.
#include <catch2/catch.hpp>

#include <set>
#include <string>

#include "sim/findings/plan_words.hpp"
#include "sim/record/act_json.hpp"
#include "sim/room/plan_part_words.hpp"

using namespace redress;
using namespace redress::findings;

namespace {

Finding plan_of(const char* advice) {
  Finding f;
  f.test = FindingTest::plan;
  f.advice = advice;
  return f;
}

}  // namespace

TEST_CASE("plan: every part has a word, a label of its own and free words that say it",
          "[findings]") {
  std::set<std::string_view> labels;
  std::set<std::string_view> words;
  for (const PlanTerm& term : plan_terms()) {
    INFO(term.label);
    labels.insert(term.label);
    words.insert(find_name(kPlanPartWords, term.part));
    CHECK(term_of(term.part).label == term.label);
    Finding listed = plan_of("");
    listed.parts = {term.part};
    CHECK(has_part(listed, term.part));
    CHECK(parts_of(listed) == listed.parts);
    CHECK_FALSE(write_plan(listed).empty());
    // Each alternative of the free words is read as this part.
    std::string_view left = term.read;
    while (!left.empty()) {
      const std::size_t bar = left.find('|');
      const std::string piece(left.substr(0, bar));
      left = bar == std::string_view::npos ? std::string_view{} : left.substr(bar + 1);
      INFO(piece);
      CHECK(has_part(plan_of(piece.c_str()), term.part));
    }
  }
  CHECK(labels.size() == static_cast<std::size_t>(kPlanParts));
  CHECK(words.size() == static_cast<std::size_t>(kPlanParts));
}

TEST_CASE("plan: advice in free words is read", "[findings]") {
  using enum PlanPart;
  const auto read = [](const char* text) { return read_plan(text); };
  CHECK(read("Full refraction; orthoptic review.") ==
        std::vector<PlanPart>{refraction, monitor, refer_orthoptist});
  CHECK(read("No exercises, no prism.").empty());
  CHECK(read("Not to drive while there is double vision.") ==
        std::vector<PlanPart>{PlanPart::driving});
  CHECK(read("Seen by an eye department today; MRI, ESR and CRP.") ==
        std::vector<PlanPart>{refer_ophthalmology, refer_emergency, imaging, blood_tests});
  CHECK(read("").empty());
  CHECK(read("\xFF ;;; no").empty());
}

TEST_CASE("plan: driving and the next visit are said by their keys too", "[findings]") {
  Finding plan = plan_of("");
  CHECK_FALSE(has_part(plan, PlanPart::driving));
  CHECK_FALSE(has_part(plan, PlanPart::monitor));
  plan.driving = Driving::not_until_controlled;
  plan.next_weeks = 6;
  CHECK(has_part(plan, PlanPart::driving));
  CHECK(has_part(plan, PlanPart::monitor));
  plan.parts = {PlanPart::refraction, PlanPart::refer_orthoptist, PlanPart::monitor};
  plan.advice = "Bring the old glasses.";
  CHECK(write_plan(plan) ==
        "Full refraction first; refer: Orthoptist; See again in 6 weeks; not to drive until it is "
        "controlled; Bring the old glasses.");
}

TEST_CASE("plan: parts come back from a record in one order", "[findings]") {
  const auto acts = record::parse_acts(
      R"({"at_ms":0,"act":"note","finding":{"test":"plan","parts":["monitor","glasses"]}})");
  REQUIRE(acts.ok());
  const Finding& f = std::get<act::Note>(acts.value()[0].content).finding;
  CHECK(f.parts == std::vector<PlanPart>{PlanPart::glasses, PlanPart::monitor});
  // A record from before has none.
  const auto older = record::parse_acts(
      R"({"at_ms":0,"act":"note","finding":{"test":"plan","advice":"Review."}})");
  REQUIRE(older.ok());
  CHECK(std::get<act::Note>(older.value()[0].content).finding.parts.empty());
}
