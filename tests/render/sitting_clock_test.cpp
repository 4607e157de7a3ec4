// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Clocks that are set, that differ between workstations, and a computer that stands still: each is
// written down and told, loses nothing, and gives nobody time.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "sim/cases/setup.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"
#include "tests/render/sitting_on_screen.hpp"

using namespace redress;
using namespace redress::assessment;
using redress::test::SittingOnScreen;
using redress::window::Key;

namespace {

constexpr std::int64_t kNine = 1'795'856'400'000;
constexpr std::int64_t kHour = 3'600'000;

/// Clocks that a test sets: what the frames have, and more.
struct Clocks {
  std::int64_t utc_ms = kNine;
  std::int64_t steady_ms = 5'000'000;
  [[nodiscard]] std::function<ClockReading(double)> reader() {
    return [this](double now_ms) {
      const auto passed = static_cast<std::int64_t>(now_ms);
      return ClockReading{utc_ms + passed, steady_ms + passed};
    };
  }
};

struct Day {
  tests::TemporaryFolder folder;
  Clocks clocks;

  Day() { test::seal_small_circuit(folder.path(), {}); }
  [[nodiscard]] SittingOnScreen sit(bool resume = false) {
    return SittingOnScreen(folder.path(), resume, {1440, 900, 1}, 100, clocks.reader());
  }
  [[nodiscard]] std::string kept() const {
    return read_file(folder.path() + "/kept/0417-1.station").value();
  }
  /// Whole, from this circuit, and it replays.
  [[nodiscard]] StationVerdict check_kept() const {
    const OpenedCircuit circuit =
        open_circuit(read_file(folder.path() + "/day.sealed").value(), test::kSittingPassphrase)
            .value();
    StationVerdict verdict = verify_station(kept(), circuit.keys.id());
    INFO(verdict.message);
    CHECK(verdict.intact());
    const auto record = record::read_record(open_station(kept(), circuit.keys).value().record);
    REQUIRE(record.ok());
    CHECK(record::replay(record.value(), setup_of(circuit.forms[0][0].content)).agrees);
    return verdict;
  }
};

std::vector<DeskEvent> events_called(const StationVerdict& verdict, const std::string& what) {
  std::vector<DeskEvent> found;
  for (const DeskEvent& event : verdict.events) {
    if (event.what == what) found.push_back(event);
  }
  return found;
}

}  // namespace

TEST_CASE("clocks at a desk: the time of day is set forward and back, and the station lasts") {
  Day day;
  SittingOnScreen on = day.sit();
  on.begin();
  on.click("Begin reading");
  on.run_for(5000);
  day.clocks.utc_ms -= kHour;
  on.run_for(1000);
  CHECK(on.shows("clock was set"));
  CHECK_FALSE(on.sitting->shows_patient());
  on.run_for(6000);
  REQUIRE(on.sitting->shows_patient());  // ten seconds of reading, as without it
  on.run_for(50'000);
  day.clocks.utc_ms += 2 * kHour;
  on.run_for(1500);
  CHECK(on.shows("This computer’s clock was set."));
  CHECK(on.shows("By 2:00:00 forward. This is recorded; your time is not changed."));
  CHECK(on.shows("1:0"));
  on.run_for(65'000);
  REQUIRE(on.sitting->shows_patient());
  on.run_for(10'000);
  CHECK(on.shows("Time is up."));
  on.click("Go on");
  on.sitting.reset();

  const StationVerdict verdict = day.check_kept();
  CHECK(verdict.used_ms == 120'000);
  const auto set = events_called(verdict, "clock_set");
  REQUIRE(set.size() == 2);
  CHECK(set[0].detail["by_ms"] == -kHour);
  CHECK(set[1].detail["by_ms"] == 2 * kHour);
  CHECK(set[1].at_ms > 45'000);
  CHECK(read_terms(verdict.events) == TimeTerms{});
  // The times of the events say the same, whoever reads them.
  CHECK(find_clock_faults(verdict.events).size() == 2);
}

TEST_CASE("clocks at a desk: a computer that sleeps or is held gives nobody time") {
  Day day;
  SittingOnScreen on = day.sit();
  on.begin();
  on.click("Begin reading");
  on.run_for(11'000);
  REQUIRE(on.sitting->shows_patient());
  on.run_for(20'000);
  // Asleep: the frames' clock stands, the one that counts sleep does not.
  day.clocks.utc_ms += 30'000;
  day.clocks.steady_ms += 30'000;
  on.run_for(1500);
  CHECK(on.shows("This computer stood still for 30 s."));
  CHECK(on.shows("The clock ran on; this is recorded. Tell the invigilator."));
  on.run_for(9'000);
  // Held: the frames' clock runs, and the patient's makes up for two seconds of it.
  on.stand_still(25'000);
  on.run_for(1500);
  CHECK(on.shows("This computer stood still for 23 s."));
  // An invigilator finds that it was nobody's fault.
  on.key(Key::f11);
  on.open();
  CHECK(on.shows("the computer stood still for 30 s"));
  on.fill("reason", "the power failed");
  on.click("Give it");
  on.click("Back to the candidate");
  on.run_for(60'000);
  REQUIRE(on.sitting->shows_patient());
  on.run_for(60'000);
  CHECK(on.shows("Time is up."));
  on.click("Go on");
  on.sitting.reset();

  const StationVerdict verdict = day.check_kept();
  const auto still = events_called(verdict, "stood_still");
  REQUIRE(still.size() == 2);
  const auto lost = still[0].detail["ms"].get<Tick>() + still[1].detail["ms"].get<Tick>();
  CHECK(lost > 52'000);
  CHECK(lost < 54'000);
  // Two minutes, less what it stood still, and the minute that was given.
  CHECK(verdict.used_ms == 180'000 - lost);
  CHECK(read_terms(verdict.events).credit_ms == 60'000 - lost);
  CHECK(events_called(verdict, "clock_set").empty());
}

TEST_CASE("clocks at a desk: reading time runs on in a sleep") {
  Day day;
  SittingOnScreen on = day.sit();
  on.begin();
  on.click("Begin reading");
  on.run_for(2000);
  day.clocks.utc_ms += 20'000;
  day.clocks.steady_ms += 20'000;
  on.run_for(500);
  CHECK(on.sitting->shows_patient());
}

TEST_CASE("clocks at a desk: a workstation whose clock is behind resumes, and says so") {
  Day day;
  {
    SittingOnScreen on = day.sit();
    on.begin();
    on.click("Begin reading");
    on.run_for(11'000);
    on.key(Key::a, "a");
    on.run_for(30'000);
  }
  day.clocks.utc_ms = kNine - kHour;
  day.clocks.steady_ms = 40;  // another machine, just started
  SittingOnScreen on = day.sit(true);
  on.open();
  CHECK(on.shows("This desk resumes station 1 at 0:3"));
  CHECK(on.shows("behind that of desk 3; this is recorded."));
  on.click("Go on");
  on.run_for(95'000);
  CHECK(on.shows("Time is up."));
  on.click("Go on");
  on.sitting.reset();
  const StationVerdict verdict = day.check_kept();
  CHECK(verdict.used_ms == 120'000);
  CHECK(events_called(verdict, "clock_differs").size() == 1);
  const auto faults = find_clock_faults(verdict.events);
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].differs);
}
