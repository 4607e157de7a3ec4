// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The library as a whole: whom one meets in it. A library of pathology teaches over-calling, and
// one in which it is always the right eye of a woman of thirty teaches that. Bounds are judgement
// unless a source stands beside them.
#include <map>
#include <set>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/cases/case_file.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;

namespace {

const std::vector<Case>& library() {
  static const std::vector<Case> kCases = [] {
    std::vector<Case> all;
    for (const std::string& name : shipped_case_names()) {
      const Result<Case> read = read_case_text(shipped_case(name));
      if (!read) FAIL(name << ": " << listed(read.problems()));
      all.push_back(read.value());
    }
    return all;
  }();
  return kCases;
}

bool has(const std::string& text, const char* part) { return text.find(part) != std::string::npos; }

template <class Wanted>
int count(Wanted wanted) {
  int number = 0;
  for (const Case& c : library()) number += wanted(c) ? 1 : 0;
  return number;
}

double share(int part, int whole) { return static_cast<double>(part) / static_cast<double>(whole); }

}  // namespace

TEST_CASE("sixty cases and more, no two told alike", "[cases]") {
  CHECK(library().size() >= 60);
  std::set<std::string> names;
  std::set<std::string> titles;
  std::set<std::string> stories;
  for (const Case& c : library()) {
    names.insert(c.patient.name);
    titles.insert(c.title);
    stories.insert(c.patient.story);
  }
  CHECK(names.size() == library().size());
  CHECK(titles.size() == library().size());
  CHECK(stories.size() == library().size());
}

TEST_CASE("right and left are met alike", "[cases]") {
  const int right = count([](const Case& c) { return has(c.expected.diagnosis, "right"); });
  const int left = count([](const Case& c) { return has(c.expected.diagnosis, "left"); });
  INFO(right << " right, " << left << " left");
  CHECK(right + left >= 20);
  CHECK(share(right, right + left) >= 0.35);
  CHECK(share(left, right + left) >= 0.35);
}

TEST_CASE("women and men are met alike, young and old", "[cases]") {
  const auto of = [](Sex sex, double low, double high) {
    return count([&](const Case& c) {
      return c.patient.sex == sex && c.patient.age_years >= low && c.patient.age_years < high;
    });
  };
  const int all = static_cast<int>(library().size());
  CHECK(of(Sex::any, 0, 100) == 0);  // everybody's is said: the face follows it
  CHECK(share(of(Sex::female, 0, 100), all) >= 0.4);
  CHECK(share(of(Sex::male, 0, 100), all) >= 0.4);
  // Nor is it always the boys who squint and the old women who see double.
  for (const auto& [low, high] : {std::pair{0.0, 18.0}, {18.0, 50.0}, {50.0, 100.0}}) {
    const int here = of(Sex::female, low, high) + of(Sex::male, low, high);
    INFO(low << " to " << high << ": " << of(Sex::female, low, high) << " of " << here);
    CHECK(share(of(Sex::female, low, high), here) >= 0.3);
    CHECK(share(of(Sex::male, low, high), here) >= 0.3);
  }
}

TEST_CASE("all ages are met", "[cases]") {
  const auto from = [](double low, double high) {
    return count(
        [&](const Case& c) { return c.patient.age_years >= low && c.patient.age_years < high; });
  };
  CHECK(from(0, 7) >= 5);
  CHECK(from(7, 18) >= 10);
  CHECK(from(18, 40) >= 15);
  CHECK(from(40, 60) >= 7);
  CHECK(from(60, 100) >= 6);
}

TEST_CASE("ten and more need no action, and every urgency is met", "[cases]") {
  const auto of = [](Urgency urgency) {
    return count([&](const Case& c) { return c.expected.urgency == urgency; });
  };
  CHECK(of(Urgency::routine) >= 10);
  CHECK(of(Urgency::soon) >= 10);
  CHECK(of(Urgency::urgent) >= 6);
  CHECK(of(Urgency::same_day) >= 5);
}

TEST_CASE("every case teaches", "[cases]") {
  std::map<int, int> levels;
  std::map<int, int> steps;
  for (const Case& c : library()) {
    INFO(c.title);
    const CaseTeaching& t = c.teaching;
    CHECK_FALSE(t.goal.empty());
    CHECK_FALSE(t.different.empty());
    CHECK(t.key_questions.size() >= 2);
    CHECK(t.key_questions.size() <= 5);  // asking everything is no history
    CHECK(t.look_alikes.size() >= 2);
    CHECK_FALSE(t.sources.empty());
    ++levels[t.level];
    ++steps[t.step];
  }
  for (int level = 1; level <= 5; ++level) CHECK(levels[level] >= 4);
  for (int step = 1; step <= 9; ++step) CHECK(steps[step] >= 3);
}
