// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A cohort's figures, its reports and its statements to a learning record store.
#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/cohort.hpp"
#include "sim/assessment/marks_csv.hpp"
#include "sim/assessment/report.hpp"
#include "tests/assessment/circuit_texts.hpp"
#include "tests/assessment/xapi_rules.hpp"

using namespace redress;
using namespace redress::assessment;
using nlohmann::json;

namespace {

CohortMark mark(double marks, bool unsafe = false,
                std::optional<GlobalRating> rating = std::nullopt) {
  CohortMark m;
  m.marks = marks;
  m.unsafe = unsafe;
  m.rating = rating;
  m.shares.assign(scoring::kItemCount, marks / 100.0);
  m.shares[0] = -1.0;
  return m;
}

// Two scored stations (the second a safety station), a rest between; pass 55 and one station.
Cohort small_cohort() {
  Cohort cohort;
  cohort.circuit = parse_circuit(testing::small_circuit()).value();
  cohort.rows = {{"0001", {mark(80), mark(90)}, {}},       {"0002", {mark(70), mark(60)}, {}},
                 {"0003", {mark(90), mark(39, true)}, {}}, {"0004", {mark(39, true), mark(95)}, {}},
                 {"0005", {mark(30), mark(56)}, {}},       {"<0006>", {mark(56), mark(57)}, {}}};
  return cohort;
}

}  // namespace

TEST_CASE("who passes: mark, number of stations, safety, and the board", "[assessment]") {
  const Cohort cohort = small_cohort();
  const CohortFigures f = calc_figures(cohort);
  const auto decision = [&](std::size_t i) { return f.candidates_in_order[i].decision; };
  CHECK(decision(0) == Decision::pass);
  CHECK(decision(1) == Decision::pass);
  CHECK(decision(2) == Decision::fail);   // mean 64.5, but unsafe at the safety station
  CHECK(decision(3) == Decision::board);  // mean 67, unsafe elsewhere
  CHECK(decision(4) == Decision::fail);   // mean 43
  CHECK(decision(5) == Decision::pass);
  CHECK(f.passed == 3);
  CHECK(f.stations[0].difficulty == Approx((80 + 70 + 90 + 39 + 30 + 56) / 600.0));
  CHECK(f.stations[0].share_passing == Approx(4.0 / 6.0));
  CHECK(f.standard == StandardMethod::fixed);
  // One error of measurement: what is within it of the line is to be read again.
  for (const CandidateFigures& c : f.candidates_in_order) {
    CHECK(c.near_line == (std::abs(c.total - 55.0) <= f.error_of_measurement));
  }
}

TEST_CASE("the standard is set from ratings where there are, and says if it cannot be",
          "[assessment]") {
  Cohort cohort = small_cohort();
  cohort.circuit.standard = StandardMethod::borderline_regression;
  CohortFigures f = calc_figures(cohort);
  CHECK(f.standard == StandardMethod::fixed);
  CHECK(f.standard_note.find("station 1") != std::string::npos);
  // Ratings on a line: 30 + 20 r, so borderline (1) is 50 without error.
  for (std::size_t i = 0; i < cohort.rows.size(); ++i) {
    for (CohortMark& m : cohort.rows[i].stations) {
      m.rating = static_cast<GlobalRating>(i % 4);
      m.marks = 30.0 + 20.0 * static_cast<double>(i % 4);
    }
  }
  f = calc_figures(cohort);
  CHECK(f.standard == StandardMethod::borderline_regression);
  CHECK(f.cut.mark == Approx(50.0));
  CHECK(*f.cut.error == Approx(0.0).margin(1e-9));
  cohort.circuit.standard = StandardMethod::angoff;
  cohort.circuit.stations[0].angoff_percent = {40, 50};
  f = calc_figures(cohort);  // the other station: 50 and 61
  CHECK(f.cut.mark == Approx((45.0 + 55.5) / 2));
}

TEST_CASE("marks written as CSV and merged from shards are the same cohort", "[assessment]") {
  const Cohort cohort = small_cohort();
  Cohort one = cohort;
  Cohort two = cohort;
  one.rows.erase(one.rows.begin() + 3, one.rows.end());
  two.rows.erase(two.rows.begin(), two.rows.begin() + 3);
  Cohort merged;
  merged.circuit = cohort.circuit;
  REQUIRE(add_marks_csv(make_marks_csv(two), merged).empty());
  REQUIRE(add_marks_csv(make_marks_csv(one), merged).empty());
  sort_rows(merged);
  CHECK(make_marks_csv(merged) == make_marks_csv(cohort));
  CHECK(make_json(merged, calc_figures(merged), {}) == make_json(cohort, calc_figures(cohort), {}));
  // The same shard twice, a line cut, a wrong word: told, and nothing is added.
  const std::string text = make_marks_csv(one);
  CHECK(add_marks_csv(text, merged)[0].message.find("again") != std::string::npos);
  Cohort empty;
  empty.circuit = cohort.circuit;
  CHECK(add_marks_csv(text.substr(0, text.size() - 1), empty)[0].message.find("cut short") !=
        std::string::npos);
  CHECK(add_marks_csv("candidate\n", empty)[0].place == "line 1");
  std::string worse = text;
  worse.replace(worse.find(",80,"), 4, ",xx,");
  const Problems problems = add_marks_csv(worse, empty);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].place == "line 2");
  CHECK(empty.rows.empty());
}

TEST_CASE("statements for a learning record store keep the standard's rules", "[assessment]") {
  const Cohort cohort = small_cohort();
  const CohortFigures f = calc_figures(cohort);
  const XapiContext context{"https://example.org", "https://example.org/redress",
                            "2026-11-24T10:00:00Z"};
  const json statements = json::parse(make_xapi(cohort, f, "5c1e90af22d7aaaa", context).dump());
  CHECK(statements.size() == 6 * 3);
  CHECK(testing::XapiRules::check(statements) == std::vector<std::string>{});
  std::set<std::string> ids;
  for (const json& s : statements) ids.insert(s["id"].get<std::string>());
  CHECK(ids.size() == statements.size());
  CHECK(statements == json::parse(make_xapi(cohort, f, "5c1e90af22d7aaaa", context).dump()));
  CHECK(statements[2]["verb"]["id"] == "http://adlnet.gov/expapi/verbs/passed");
  CHECK(statements[8]["result"]["success"] == false);
  CHECK_FALSE(statements[11]["result"].contains("success"));  // the board has not met
  // Each rule can be broken.
  struct Breach {
    const char* place;
    json value;  // null: taken away
  };
  for (const auto& [place, value] :
       std::vector<Breach>{{"/0/actor", nullptr},
                           {"/0/verb", nullptr},
                           {"/0/object", nullptr},
                           {"/0/id", "5c1e90af"},
                           {"/0/id", statements[1]["id"]},
                           {"/0/actor/account", nullptr},
                           {"/0/actor/mbox", "mailto:a@example.org"},
                           {"/0/actor/account/homePage", "example"},
                           {"/0/verb/id", "completed"},
                           {"/0/verb/display", json{{"", "completed"}}},
                           {"/0/object/id", "station 1"},
                           {"/0/object/definition/colour", "red"},
                           {"/0/result/score/scaled", 1.2},
                           {"/0/result/score/raw", 101},
                           {"/0/result/score/min", 100},
                           {"/0/result/completion", "yes"},
                           {"/0/result/duration", "6 minutes"},
                           {"/0/timestamp", "24 November 2026"},
                           {"/0/timestamp", "2026-11-24T10:00:00-00:00"},
                           {"/0/version", "2.1"},
                           {"/0/mark", 70}}) {
    INFO(place << " " << value.dump());
    json bad = statements;
    const json::json_pointer pointer(place);
    if (value.is_null()) {
      bad.at(pointer.parent_pointer()).erase(pointer.back());
    } else {
      bad[pointer] = value;
    }
    CHECK_FALSE(testing::XapiRules::check(bad).empty());
  }
}

TEST_CASE("statements are not made without a time, or with accounts of nowhere", "[assessment]") {
  const auto faults = [](const std::string& home, const std::string& when) {
    return check_xapi({home, home + "/redress", when}).size();
  };
  CHECK(faults("https://example.org", "2026-11-24T10:00:00Z") == 0);
  CHECK(faults("https://example.org", "2026-11-24T10:00:00.25+01:00") == 0);
  CHECK(faults("example.org", "2026-11-24T10:00:00Z") == 1);
  for (const std::string when : {"", "24 November 2026", "2026-11-24", "2026-11-24T10:00:00",
                                 "2026-11-24T10:00:00.Z", "2026-11-24T10:00:00-00:00"}) {
    INFO(when);
    CHECK(faults("https://example.org", when) == 1);
  }
}

TEST_CASE("reports are HTML with headings, tables and words for each figure", "[assessment]") {
  Cohort cohort = small_cohort();
  cohort.sizes = {{8, 9}, {-6, -6.5}, {12, 10}};
  const CohortFigures f = calc_figures(cohort);
  const ReportHead head{"5c1e 90af 22d7", "0.1.0", "24 November 2026", false};
  const std::string html = make_cohort_report(cohort, f, head);
  const auto count = [](const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1))
      ++n;
    return n;
  };
  for (const std::string part :
       {"<!DOCTYPE html>", "lang=\"en-GB\"", "<h1>small</h1>", "Circuit seal 5c1e 90af 22d7",
        "24 November 2026", "3 of 6", "does not diagnose real people", "Near the line", "Unsafe"}) {
    INFO(part);
    CHECK(html.find(part) != std::string::npos);
  }
  // The plots have words; the small scales in cells say nothing that the words beside them do not.
  CHECK(count(html, "aria-label=\"") == 3);
  CHECK(count(html, "aria-label=\"") + count(html, "aria-hidden=\"true\"") == count(html, "<svg "));
  for (const std::string tag : {"table", "tr", "td", "th", "figure", "dl", "div", "h2", "p"}) {
    INFO(tag);
    CHECK(count(html, "<" + tag + ">") + count(html, "<" + tag + " ") ==
          count(html, "</" + tag + ">"));
  }
  CHECK(html.find("<0006>") == std::string::npos);  // escaped
  CHECK(html.find("http") == std::string::npos);    // needs nothing from elsewhere
  const std::string page = make_candidate_report(cohort, f, 3, head);
  CHECK(page.find("Candidate 0004") != std::string::npos);
  CHECK(page.find("to the board") != std::string::npos);
  CHECK(page.find("exophoria") == std::string::npos);
  CHECK(page.find(cohort.circuit.stations[2].name + "</th>") == std::string::npos);
  CHECK(page.find("0001") == std::string::npos);  // no other candidate
}

TEST_CASE("the table for spreadsheets has one row a candidate", "[assessment]") {
  const Cohort cohort = small_cohort();
  const std::string csv = make_csv(cohort, calc_figures(cohort));
  CHECK(csv.substr(0, csv.find('\n')) == "candidate,1 one,3 three,total,decision,near_line,unsafe");
  CHECK(csv.find("0003,90.0,39.0,64.50,fail,") != std::string::npos);
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 7);
}
