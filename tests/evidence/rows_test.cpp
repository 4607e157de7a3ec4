// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The rows of the report: each comes to what is written in tests/evidence/expected.txt. They are
// not expected to be within: a miss is listed there, its reason in sim/evidence/misses.cpp, and a
// change of verdict either way fails here so that somebody looks.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <sstream>
#include <string>

#include <catch2/catch.hpp>

#include "sim/basics/file.hpp"
#include "sim/basics/html_text.hpp"
#include "sim/evidence/misses.hpp"
#include "sim/evidence/report.hpp"
#include "sim/evidence/row.hpp"
#include "tests/support/places.hpp"

using namespace redress;
using namespace redress::evidence;

namespace {

std::map<std::string, std::string> read_expected() {
  const auto text = read_file(support::source_dir() + "/tests/evidence/expected.txt");
  REQUIRE(text.ok());
  std::map<std::string, std::string> expected;
  std::istringstream lines(text.value());
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || line.front() == '#') continue;
    const auto bar = line.find(" | ");
    REQUIRE(bar != std::string::npos);
    const std::string id = line.substr(0, bar);
    INFO(id);
    REQUIRE(expected.emplace(id, line.substr(bar + 3)).second);
  }
  return expected;
}

}  // namespace

TEST_CASE("each row that holds the model against the literature comes to what is written down") {
  const std::vector<Outcome> outcomes = run_rows(all_rows());
  const std::map<std::string, std::string> expected = read_expected();
  for (const Outcome& o : outcomes) {
    INFO(o.id << ": " << o.quantity << ", published " << o.published.text << " " << o.unit
              << ", engine " << o.engine << " (" << o.remark << ")");
    const auto found = expected.find(o.id);
    if (found == expected.end()) {
      CHECK_FALSE("a row that is not in tests/evidence/expected.txt");
      continue;
    }
    CHECK(word_of(o.verdict) == found->second);
    // A miss has a sentence that says why; what is not a miss has none.
    CHECK((o.why.size() > 20) == (o.verdict == Verdict::outside));
    CHECK(find_reason(o.id) == o.why);
    // A row without a value says why there is none; a row with one shows it.
    CHECK(o.engine.empty() == (o.verdict == Verdict::not_simulated));
    if (o.verdict == Verdict::not_simulated) CHECK(o.remark.size() > 10);
  }
  CHECK(outcomes.size() == expected.size());

  const std::string page = make_report(outcomes);
  CHECK(page.find("not a medical device") != std::string::npos);
  CHECK(page.find("<script") == std::string::npos);
  CHECK(page.find("href=") == std::string::npos);
  CHECK(page.find("src=") == std::string::npos);
  for (const Outcome& o : outcomes) {
    INFO(o.id);
    // Misses and what is not simulated stand twice: at the top, and in their group.
    const std::string cell = "<td>" + o.id + "</td>";
    const auto first = page.find(cell);
    REQUIRE(first != std::string::npos);
    CHECK((page.find(cell, first + 1) != std::string::npos) == (o.verdict != Verdict::within));
    // Why a miss is one stands beside it.
    const std::string row = page.substr(first, page.find("</tr>", first) - first);
    CHECK((row.find("class=\"why\"") != std::string::npos) == (o.verdict == Verdict::outside));
    CHECK(row.find(escape_html(o.why)) != std::string::npos);
  }
  const Counts counts = count(outcomes);
  CHECK(counts.all() == outcomes.size());
  CHECK(page.find("<h2>Outside: " + std::to_string(counts.outside)) <
        page.find("<h2>Main sequence"));
  CHECK(std::count(page.begin(), page.end(), '\n') > static_cast<long>(outcomes.size()));
}

TEST_CASE("what is said to lie outside is a row, each said once") {
  std::set<std::string> ids;
  for (const Row& row : all_rows()) ids.insert(row.id);
  std::set<std::string_view> said;
  for (const Miss& miss : known_misses()) {
    INFO(miss.id);
    CHECK(ids.count(std::string{miss.id}) == 1);
    CHECK(said.insert(miss.id).second);
    CHECK(miss.why.back() == '.');
  }
  CHECK(find_reason("no such row").empty());
}

TEST_CASE("a miss without a reason is not passed over on the page") {
  Outcome odd;
  odd.id = "X";
  odd.verdict = Verdict::outside;
  CHECK(make_report({odd}).find("not explained") != std::string::npos);
}

TEST_CASE("rows of evidence have ids of their own, sources, and intervals that can be missed") {
  const std::vector<Row> rows = all_rows();
  CHECK(rows.size() >= 120);
  std::set<std::string> ids;
  for (const Row& row : rows) {
    INFO(row.id);
    CHECK(ids.insert(row.id).second);
    CHECK(row.id.find(' ') == std::string::npos);
    CHECK_FALSE(row.group.empty());
    CHECK_FALSE(row.quantity.empty());
    CHECK(row.source.size() > 4);
    CHECK_FALSE(row.published.text.empty());
    REQUIRE(row.measure);
    const bool numbers = row.published.low.has_value() || row.published.high.has_value();
    CHECK(numbers == row.published.word.empty());
    if (row.published.low && row.published.high) CHECK(*row.published.low <= *row.published.high);
    // The page prints the unit after the text: it is not there twice.
    const std::string& text = row.published.text;
    const bool ends_with_unit =
        !row.unit.empty() && text.size() >= row.unit.size() &&
        text.compare(text.size() - row.unit.size(), row.unit.size(), row.unit) == 0;
    CHECK_FALSE(ends_with_unit);
  }
  // Independent cases on eye, prism, lens, acuity, norms and criteria: each has its row or rows.
  for (const char* id :
       {"A01", "A02", "A04", "A05", "A06", "A08", "A09", "A10", "A12", "A13", "A14", "A16",
        "A17", "A18", "A20", "A21", "A22", "A24", "A25", "A26", "A28", "A29", "A30", "A32",
        "A33", "A34", "A36", "A37", "A38", "A40", "A41", "A42", "B01", "B02", "B04", "B05",
        "B06", "B08", "B09", "B10", "C01", "C02", "C04", "C05", "C06", "C08", "C09", "C10",
        "D01", "D02", "D04", "D05", "D06", "D08", "D09", "D10", "D12", "D13", "D14", "E01",
        "E02", "E04", "F01", "F02", "F04", "F05", "F06", "F08", "F09", "F10", "F12", "F13",
        "F14", "F16", "F17", "F18", "F20", "F21", "F22", "F24"}) {
    INFO(id);
    CHECK(std::any_of(rows.begin(), rows.end(),
                      [&](const Row& row) { return row.id.rfind(id, 0) == 0; }));
  }
  for (int observation = 1; observation <= 15; ++observation) {
    const std::string id = (observation < 10 ? "P0" : "P") + std::to_string(observation) + ".";
    INFO(id);
    CHECK(std::any_of(rows.begin(), rows.end(),
                      [&](const Row& row) { return row.id.rfind(id, 0) == 0; }));
  }
}

namespace {

Row row_for(Published published, Figure found) {
  return {"X", "group",  "quantity",     std::move(published),
          "",  "source", Standing::read, [found](Bench&) { return found; }};
}

Verdict verdict_of(Published published, Figure found) {
  return run_rows({row_for(std::move(published), std::move(found))}).front().verdict;
}

}  // namespace

TEST_CASE("a figure is within its interval, ends included, or outside") {
  CHECK(verdict_of(about(10, 1), figure(11.0)) == Verdict::within);
  CHECK(verdict_of(about(10, 1), figure(9.0)) == Verdict::within);
  CHECK(verdict_of(about(10, 1), figure(11.001)) == Verdict::outside);
  CHECK(verdict_of(at_least(2), figure(1.9)) == Verdict::outside);
  CHECK(verdict_of(at_least(2), figure(1e9)) == Verdict::within);
  CHECK(verdict_of(at_most(2), figure(-5)) == Verdict::within);
  CHECK(verdict_of(about(10, 1), figure(std::nan(""))) == Verdict::outside);
  CHECK(verdict_of(exactly("single"), in_words("single")) == Verdict::within);
  CHECK(verdict_of(exactly("single"), in_words("double")) == Verdict::outside);
  CHECK(verdict_of(about(10, 1), in_words("ten")) == Verdict::outside);
  CHECK(verdict_of(exactly("ten"), figure(10)) == Verdict::outside);
}

TEST_CASE("the page shows the interval that decides once") {
  std::vector<Row> rows;
  for (const Published& p : {printed("about 8", between(6, 10)), about(18, 3.6),
                             printed("none", at_most(2)), between(4, 5), at_least(3)}) {
    rows.push_back(row_for(p, figure(4.5)));
  }
  rows[3].unit = "mm";
  const std::string page = make_report(run_rows(rows));
  const auto shows = [&](const std::string& text) { return page.find(text) != std::string::npos; };
  CHECK(shows("about 8<br>allowed 6 to 10<"));
  CHECK(shows("18 ± 3.6<br>allowed 14.4 to 21.6<"));
  CHECK(shows("none<br>allowed at most 2<"));
  CHECK(shows(">4 to 5 mm<"));
  CHECK(shows(">at least 3<"));
}

TEST_CASE("figures are printed short and the page minds its own characters") {
  CHECK(format_number(0.0) == "0");
  CHECK(format_number(-0.00001) == "0");
  CHECK(format_number(2.0002) == "2");
  CHECK(format_number(0.5729) == "0.5729");
  CHECK(format_number(23.456) == "23.46");
  CHECK(format_number(1234.5678) == "1235");
  Outcome odd = run_rows({row_for(exactly("a<b"), in_words("c&d"))}).front();
  const std::string page = make_report({odd});
  CHECK(page.find("a&lt;b") != std::string::npos);
  CHECK(page.find("c&amp;d") != std::string::npos);
  CHECK(page.find("a<b") == std::string::npos);
}
