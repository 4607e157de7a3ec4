// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Assessors' ledgers: both marks kept, signed, with a reason; who is marked twice.
#include <algorithm>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/assessment/marks.hpp"

using namespace redress;
using namespace redress::assessment;
using scoring::Item;

namespace {

struct Marking {
  CircuitKeys circuit;
  WorkstationKey key = make_workstation_key(circuit, "A. Perera");
  std::string signature;
  std::string text = begin_ledger(circuit.id(), key, signature);

  void overrule(const std::string& candidate, Item item, double engine, double marks,
                const std::string& reason = "seen on the replay") {
    text +=
        write_overruling({candidate, 3, item, engine, marks, reason}, 10.0, key, signature).value();
  }
  void rate(const std::string& candidate, GlobalRating rating) {
    text += write_rating({candidate, 3, rating}, key, signature);
  }
  [[nodiscard]] Ledger ledger() const { return read_ledger(text, circuit.id()).value(); }
};

scoring::ScoreSheet some_sheet() {
  scoring::ScoreSheet sheet;
  sheet.items = {{Item::d1, 10, 10, scoring::Grade::full, "", {}},
                 {Item::d2, 10, 0, scoring::Grade::none, "", {}},
                 {Item::d3, 10, 5, scoring::Grade::half, "", {}}};
  sheet.total = 15;
  return sheet;
}

}  // namespace

TEST_CASE("an overruled item keeps both marks and the reason", "[assessment]") {
  Marking m;
  m.overrule("0417", Item::d2, 0, 4);
  m.overrule("0417", Item::d2, 0, 10, "the entry reads eso, in another hand");
  m.overrule("0388", Item::d1, 10, 0);
  m.rate("0417", GlobalRating::pass);
  m.rate("0417", GlobalRating::borderline);
  const std::vector<Ledger> ledgers{m.ledger()};
  const FinalMarks marks = apply_ledgers(some_sheet(), "0417", 3, ledgers);
  CHECK(marks.engine_total == 15);
  CHECK(marks.total == 25);  // the later line counts
  CHECK(marks.items[1].engine == 0);
  CHECK(marks.items[1].final == 10);
  REQUIRE(marks.items[1].reasons.size() == 1);
  CHECK(marks.items[1].reasons[0] == "A. Perera: the entry reads eso, in another hand");
  CHECK(marks.overruled() == 1);
  CHECK(marks.rating() == GlobalRating::borderline);
  // Another station, another candidate: nothing of it.
  CHECK(apply_ledgers(some_sheet(), "0417", 2, ledgers).total == 15);
  CHECK_FALSE(apply_ledgers(some_sheet(), "0999", 3, ledgers).rating());
}

TEST_CASE("two assessors count alike, and caps hold", "[assessment]") {
  Marking a;
  Marking b;
  b.circuit = CircuitKeys(lock_text(a.circuit.seed().text()));
  b.key = make_workstation_key(b.circuit, "B. Adeyemi");
  b.text = begin_ledger(b.circuit.id(), b.key, b.signature);
  a.overrule("0417", Item::d2, 0, 10);
  b.overrule("0417", Item::d2, 0, 5);
  a.rate("0417", GlobalRating::fail);
  b.rate("0417", GlobalRating::pass);
  const std::vector<Ledger> ledgers{a.ledger(), b.ledger()};
  const FinalMarks marks = apply_ledgers(some_sheet(), "0417", 3, ledgers);
  CHECK(marks.items[1].final == 7.5);
  CHECK(marks.items[1].reasons.size() == 2);
  CHECK(marks.rating() == GlobalRating::borderline);
  scoring::ScoreSheet capped = some_sheet();
  capped.caps.push_back({1, 12.0, "", {}});
  capped.total = 12;
  CHECK(apply_ledgers(capped, "0417", 3, ledgers).total == 12);
}

TEST_CASE("an overruling needs a reason and marks that can be given", "[assessment]") {
  Marking m;
  const auto problems_of = [&](double marks, const std::string& reason) {
    const auto line =
        write_overruling({"0417", 3, Item::d1, 0, marks, reason}, 10.0, m.key, m.signature);
    return line ? Problems{} : line.problems();
  };
  REQUIRE(problems_of(5, "  ").size() == 1);
  CHECK(problems_of(5, "")[0].place == "/reason");
  CHECK(problems_of(10.5, "why not")[0].place == "/marks");
  CHECK(problems_of(-1, "").size() == 2);
  CHECK(read_ledger(m.text, m.circuit.id()).ok());  // nothing was signed meanwhile
}

TEST_CASE("a ledger with any bit flipped or any line gone is refused", "[assessment]") {
  Marking m;
  m.overrule("0417", Item::d2, 0, 10);
  m.rate("0417", GlobalRating::good);
  const CircuitId id = m.circuit.id();
  std::string changed = m.text;
  std::size_t unnoticed = 0;
  for (std::size_t i = 0; i < changed.size(); ++i) {
    for (unsigned bit = 0; bit < 8; ++bit) {
      changed[i] = static_cast<char>(static_cast<unsigned char>(m.text[i]) ^ (1U << bit));
      const auto read = read_ledger(changed, id);
      if (read && !read.value().cut_short) ++unnoticed;
    }
    changed[i] = m.text[i];
  }
  CHECK(unnoticed == 0);
  const std::size_t first = m.text.find('\n') + 1;
  const std::size_t second = m.text.find('\n', first) + 1;
  CHECK_FALSE(read_ledger(m.text.substr(0, first) + m.text.substr(second), id).ok());
  CHECK(read_ledger(m.text.substr(0, m.text.size() - 5), id).value().cut_short);
  const CircuitKeys other;
  CHECK(read_ledger(m.text, other.id()).problems()[0].message.find("is not from this circuit") ==
        0);
}

TEST_CASE("agreement counts every item that was marked", "[assessment]") {
  Marking m;
  m.overrule("0417", Item::d2, 0, 10);
  const std::vector<FinalMarks> marks{
      apply_ledgers(some_sheet(), "0417", 3, std::vector<Ledger>{m.ledger()})};
  const Table counts = count_agreement(marks);
  CHECK(counts == Table{{0, 0, 1}, {0, 1, 0}, {0, 0, 1}});
  // By hand: observed 2/3; chance (0 * 1 + 1 * 1 + 2 * 1) / 9.
  CHECK(*calc_kappa({{0, 0, 1}, {0, 1, 0}, {0, 0, 1}}) ==
        Approx((2.0 / 3 - 1.0 / 3) / (1 - 1.0 / 3)));
}

TEST_CASE("all near the line and a tenth of the rest are marked twice", "[assessment]") {
  std::vector<std::string> candidates;
  std::vector<double> totals;
  for (int i = 0; i < 100; ++i) {
    candidates.push_back(std::to_string(1000 + i));
    totals.push_back(i);
  }
  const auto chosen = choose_for_second_marking(candidates, totals, 60.0, 2.2, "circuit");
  const auto has = [&](std::size_t i) {
    return std::find(chosen.begin(), chosen.end(), i) != chosen.end();
  };
  for (const std::size_t i : {58U, 59U, 60U, 61U, 62U}) CHECK(has(i));
  CHECK(chosen.size() == 5 + 10);  // a tenth of 95, rounded up
  CHECK(chosen == choose_for_second_marking(candidates, totals, 60.0, 2.2, "circuit"));
  CHECK(chosen != choose_for_second_marking(candidates, totals, 60.0, 2.2, "another"));
}
