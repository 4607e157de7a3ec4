// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the window kept is handed in and marked in the window: rated before its marks are seen,
// overruled with a reason, reported.
#include <catch2/catch.hpp>

#include <filesystem>
#include <functional>
#include <string>

#include "render/app/marking.hpp"
#include "render/screens/debrief/debrief_model.hpp"
#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/released_debrief.hpp"
#include "sim/assessment/store.hpp"
#include "tests/render/sitting_on_screen.hpp"

using namespace redress;
using namespace redress::assessment;
using redress::screens::WindowSize;
using redress::test::HeadlessUi;
using redress::test::SittingOnScreen;

namespace {

constexpr WindowSize kUsual{1440, 900, 1};

/// Both stations as somebody leaves them who does nothing but hand in.
void sit_quickly(const std::string& folder, const std::string& candidate) {
  SittingOnScreen on(folder);
  on.begin(candidate);
  on.click("Begin reading");
  on.run_for(11'000);
  on.click("Impression and plan");
  on.click("Finish and hand in");
  on.click("Hand in");
  on.click("Go on");
  on.click("Go on now");
  on.click("Begin reading");
  on.run_for(1000);
  on.click("Impression and plan");
  on.click("Finish and hand in");
  on.click("Hand in");
  on.click("Go on");
}

void hand_in(const std::string& folder) {
  Store store = Store::open(folder + "/day.sqlite").value();
  for (const auto& entry : std::filesystem::directory_iterator(folder + "/kept")) {
    const std::vector<HandIn> one{{read_file(entry.path().string()).value(), "09:00"}};
    REQUIRE(store.hand_in(one).ok());
  }
}

app::MarkingOptions make_options(const std::string& folder) {
  app::MarkingOptions options;
  options.sealed_path = folder + "/day.sealed";
  options.store = folder + "/day.sqlite";
  options.assessor = "A. Perera";
  options.marks_folder = folder + "/marks";
  options.is_played = true;
  return options;
}

/// The assessor's pages, and what was asked to be watched.
struct MarkingOnScreen {
  explicit MarkingOnScreen(app::MarkingOptions options) : marking(std::move(options)) {}

  void operator()(screens::Ui& u) {
    marking.advance(now_ms += 20);
    auto outcome = marking.draw(u, kUsual);
    if (outcome.watch) watched = std::move(outcome.watch);
  }
  /// With the passphrase, from the closed circuit on.
  void open(HeadlessUi& ui) {
    const auto draw = [this](screens::Ui& u) { (*this)(u); };
    ui.click("passphrase", draw);
    ui.type(test::kSittingPassphrase, draw);
    ui.click("Open", draw);
    ui.frame(draw);
    ui.frame(draw);
  }

  app::Marking marking;
  double now_ms = 0;
  std::optional<app::Watched> watched;
};

}  // namespace

TEST_CASE("marking: a station is rated blind, then overruled with a reason, then reported") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {});
  sit_quickly(folder.path(), "0417");
  hand_in(folder.path());
  app::MarkingOptions options = make_options(folder.path());
  MarkingOnScreen desk(std::move(options));
  HeadlessUi ui(kUsual);
  const auto draw = [&](screens::Ui& u) { desk(u); };
  desk.open(ui);
  REQUIRE(ui.probe().shows("1 candidate"));
  CHECK(ui.probe().find_centre("Cohort report, HTML") == std::nullopt);
  ui.click("desk/0417 station 3", draw);
  CHECK(ui.probe().shows("Candidate 0417, station 3"));
  CHECK(ui.probe().shows("Hidden until you have rated the station."));
  CHECK_FALSE(ui.probe().shows("of 100"));
  ui.click("Watch it", draw);
  REQUIRE(desk.watched);
  CHECK(desk.watched->blind);
  CHECK(desk.watched->record.find("\"end\":true") != std::string::npos);
  desk.marking.rate(1);  // as the replay gives it back
  ui.frame(draw);
  CHECK(ui.probe().shows("Your rating: Borderline."));
  CHECK(ui.probe().shows("of 100"));
  ui.click("desk/overrule D1", draw);
  CHECK_FALSE(ui.probe().shows("A. Perera:"));
  ui.click("desk/reason", draw);
  ui.type("said aloud that the right eye turns", draw);
  for (int i = 0; i < 4; ++i) ui.click("more", draw);
  ui.click("Sign", draw);
  CHECK(ui.probe().shows("A. Perera: said aloud that the right eye turns"));
  CHECK(ui.probe().shows("(engine 0.0)"));
  // A second rating is not taken.
  desk.marking.rate(4);
  ui.frame(draw);
  CHECK(ui.probe().shows("Your rating: Borderline."));
  ui.click("Back to the list", draw);
  ui.click("Show all marks", draw);
  ui.click("Marks, CSV", draw);
  CHECK(ui.probe().shows("marks.csv” was written"));
  CHECK(read_file(folder / "marks/marks.csv").value().find("0417") != std::string::npos);
  ui.click("Cohort report, HTML", draw);
  CHECK(read_file(folder / "marks/cohort.html").ok());
  ui.click("desk/page of 0417", draw);
  CHECK(read_file(folder / "marks/candidate_0417.html").ok());
  ui.click("For the meeting, CSV", draw);
  CHECK(read_file(folder / "marks/moderation.csv").value().find("A. Perera: borderline") !=
        std::string::npos);
  // Released: what the candidate opens has the overruled marks, as the list has them.
  CHECK_FALSE(std::filesystem::exists(folder / "marks/released"));
  ui.click("desk/release 0417", draw);
  CHECK(ui.probe().shows("2 debriefs were released into"));
  const auto released = read_released(read_file(folder / "marks/released/0417-3.debrief").value());
  REQUIRE(released.ok());
  const StationMarking& marking = released.value().marking;
  REQUIRE(marking.overruled.size() == 1);
  CHECK(marking.overruled[0].item == scoring::Item::d1);
  const auto debrief = screens::debrief::make_debrief(
      released.value().record,
      {marking.column, [&](scoring::ScoreSheet sheet) { return marking.apply(std::move(sheet)); }});
  REQUIRE(debrief.ok());
  CHECK(debrief.value().total == *marking.total);
  bool told = false;
  for (const auto& line : debrief.value().marks) {
    told = told || line.why.find("said aloud that the right eye turns") != std::string::npos;
  }
  CHECK(told);
  // The ledger is one that the command line reads.
  std::size_t ledgers = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder / "marks")) {
    if (entry.path().extension() != ".marks") continue;
    ++ledgers;
    const auto id = read_circuit_id(read_file(folder / "day.sealed").value());
    const auto ledger = read_ledger(read_file(entry.path().string()).value(), id.value());
    REQUIRE(ledger.ok());
    CHECK(ledger.value().ratings.size() == 1);
    CHECK(ledger.value().overrulings.size() == 1);
    CHECK_FALSE(ledger.value().cut_short);
  }
  CHECK(ledgers == 1);
}

TEST_CASE("marking: a station that was cut short is watched as far as it goes") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {});
  {
    SittingOnScreen on(folder.path());
    on.begin("0417");
    on.click("Begin reading");
    on.run_for(11'000);
    on.key(window::Key::a, "a");
    on.run_for(24'000);
    // Nobody says goodbye: the file has no last line.
  }
  app::MarkingOptions options = make_options(folder.path());
  options.kept_folder = folder / "kept";
  MarkingOnScreen desk(std::move(options));
  HeadlessUi ui(kUsual);
  const auto draw = [&](screens::Ui& u) { desk(u); };
  // It might still go on at a workstation: it is taken in when somebody says so.
  ui.click("Also what was cut short", draw);
  desk.open(ui);
  CHECK(ui.probe().shows("One station was taken into the store."));
  ui.click("desk/0417 station 1", draw);
  CHECK(ui.probe().shows("Candidate 0417, station 1, cut short at 0:2"));
  ui.click("Watch it", draw);
  CHECK_FALSE(ui.probe().shows("cannot be watched"));
  REQUIRE(desk.watched);
  const auto model = screens::debrief::make_debrief(desk.watched->record);
  REQUIRE(model.ok());
}

TEST_CASE("marking: what workstations kept is taken in once, what still goes on is left and told") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {});
  sit_quickly(folder.path(), "0417");
  {
    SittingOnScreen on(folder.path());
    on.begin("0418");
    on.click("Begin reading");
    on.run_for(20'000);
  }
  const auto circuit =
      open_circuit(read_file(folder / "day.sealed").value(), test::kSittingPassphrase).value();
  const CircuitKeys other;
  Store store = Store::open(folder / "day.sqlite").value();
  const std::string kept = folder / "kept";
  CHECK(app::take_in(store, other.id(), kept, true).added == 0);
  const app::TakenIn first = app::take_in(store, circuit.keys.id(), kept, false);
  CHECK(first.added == 2);
  REQUIRE(first.remarks.size() == 1);
  CHECK(first.remarks[0].find("One station in") == 0);
  CHECK(first.remarks[0].find("is cut short and not taken in") != std::string::npos);
  CHECK(app::take_in(store, circuit.keys.id(), kept, false).added == 0);
  CHECK(app::take_in(store, circuit.keys.id(), kept, true).added == 1);
  CHECK(store.list(to_text(circuit.keys.id())).value().size() == 3);
  CHECK(app::take_in(store, circuit.keys.id(), folder / "nowhere", true).remarks.size() == 1);
}
