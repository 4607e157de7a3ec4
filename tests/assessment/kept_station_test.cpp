// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a workstation keeps: whole, signed, unreadable for the candidate, and there after the
// program was killed at any moment.
#include <signal.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/assessment/kept_station.hpp"
#include "sim/assessment/resume_station.hpp"
#include "sim/assessment/station_writer.hpp"
#include "sim/basics/file.hpp"
#include "sim/basics/random.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"
#include "sim/record/run.hpp"
#include "tests/cases/case_texts.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::assessment;
using nlohmann::json;

namespace {

struct Desk {
  tests::TemporaryFolder folder;
  CircuitKeys circuit;
  WorkstationKey key = make_workstation_key(circuit, "desk 3");
  json the_case = testing::least_case();
  ExaminationSetup setup = setup_of(parse_case(the_case).value());
  std::string path = folder / "0417-4.station";

  [[nodiscard]] StationIdentity identity() const { return {circuit.id(), "desk 3", "0417", 3}; }
  [[nodiscard]] record::RecordHeader header() const {
    return record::make_header(the_case, 77, 1.0);
  }
  // Four stations with this patient, as an assessor has opened them.
  [[nodiscard]] OpenedCircuit opened_circuit() const {
    const Form form{the_case, parse_case(the_case).value(), 77};
    OpenedCircuit opened{{}, {}, CircuitKeys(lock_text(circuit.seed().text())), "test"};
    opened.circuit.stations.resize(4);
    opened.forms.assign(4, {form});
    return opened;
  }
  [[nodiscard]] std::string text() const { return read_file(path).value(); }
};

std::vector<Act> some_acts(Tick until) {
  std::vector<Act> acts;
  bool covered = false;
  for (Tick t = 120; t + 100 < until; t += 930) {
    if (covered) {
      acts.push_back({t, act::Uncover{}});
    } else {
      acts.push_back({t, act::Cover{}});
    }
    covered = !covered;
  }
  acts.push_back({until - 50, act::Ask{"single_or_double"}});
  return acts;
}

void keep_whole(const Desk& desk, Tick until) {
  StationWriter writer(desk.path, desk.identity(), desk.key, desk.header(), false);
  record::RunOptions options;
  options.chance = {77, 1.0, true};
  options.until_ms = until;
  writer.event({0, "began", json{{"at", "09:00"}}});
  record::run(desk.setup, some_acts(until), options, writer);
  REQUIRE_FALSE(writer.problem());
}

}  // namespace

TEST_CASE("a kept station is intact, opens for the circuit and replays", "[assessment]") {
  Desk desk;
  keep_whole(desk, 3000);
  const std::string text = desk.text();
  const StationVerdict verdict = verify_station(text, desk.circuit.id());
  INFO(verdict.message);
  CHECK(verdict.standing == Standing::intact);
  CHECK(verdict.identity.candidate == "0417");
  CHECK(verdict.identity.station == 3);
  CHECK(verdict.used_ms == 3000);
  REQUIRE(verdict.events.size() == 1);
  CHECK(verdict.events[0].detail["at"] == "09:00");

  const auto opened = open_station(text, desk.circuit);
  REQUIRE(opened.ok());
  const auto record = record::read_record(opened.value().record);
  REQUIRE(record.ok());
  CHECK(record.value().acts.size() == some_acts(3000).size());
  CHECK(record::replay(record.value(), desk.setup).agrees);
}

TEST_CASE("every flipped bit, every cut and every swap of lines is noticed", "[assessment]") {
  Desk desk;
  keep_whole(desk, 600);
  const std::string text = desk.text();
  const CircuitId id = desk.circuit.id();
  REQUIRE(verify_station(text, id).intact());
  std::size_t unnoticed = 0;
  std::string changed = text;
  for (std::size_t i = 0; i < text.size(); ++i) {
    for (unsigned bit = 0; bit < 8; ++bit) {
      changed[i] = static_cast<char>(static_cast<unsigned char>(text[i]) ^ (1U << bit));
      if (verify_station(changed, id).intact()) ++unnoticed;
    }
    changed[i] = text[i];
  }
  CHECK(unnoticed == 0);

  std::size_t whole = 0;
  std::size_t not_cut = 0;
  for (std::size_t size = 0; size < text.size(); ++size) {
    const StationVerdict verdict = verify_station(std::string_view(text).substr(0, size), id);
    if (verdict.intact()) ++whole;
    if (verdict.good_lines > 0 && verdict.standing != Standing::cut_short) ++not_cut;
  }
  CHECK(whole == 0);
  CHECK(not_cut == 0);  // and it says that it was cut

  std::vector<std::string> lines;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = text.find('\n', at) + 1;
    lines.push_back(text.substr(at, end - at));
    at = end;
  }
  REQUIRE(lines.size() >= 5);
  const auto joined = [](const std::vector<std::string>& all) {
    std::string out;
    for (const std::string& line : all) out += line;
    return out;
  };
  for (std::size_t a = 0; a < lines.size(); ++a) {
    for (std::size_t b = 0; b < a; ++b) {
      std::vector<std::string> swapped = lines;
      std::swap(swapped[a], swapped[b]);
      const Standing standing = verify_station(joined(swapped), id).standing;
      CHECK((standing == Standing::altered || standing == Standing::not_a_station));
    }
    std::vector<std::string> without = lines;
    without.erase(without.begin() + static_cast<std::ptrdiff_t>(a));
    CHECK_FALSE(verify_station(joined(without), id).intact());
    std::vector<std::string> twice = lines;
    twice.insert(twice.begin() + static_cast<std::ptrdiff_t>(a), lines[a]);
    CHECK(verify_station(joined(twice), id).standing == Standing::altered);
  }
}

TEST_CASE("a station of another circuit, and one that no circuit certified, are told",
          "[assessment]") {
  Desk desk;
  keep_whole(desk, 600);
  const CircuitKeys other;
  CHECK(verify_station(desk.text(), other.id()).standing == Standing::other_circuit);
  CHECK_FALSE(open_station(desk.text(), other).ok());
  // A workstation that made its own certificate.
  Desk forger;
  forger.key.certificate = make_workstation_key(other, "desk 3").certificate;
  keep_whole(forger, 600);
  const StationVerdict verdict = verify_station(forger.text(), forger.circuit.id());
  CHECK(verdict.standing == Standing::altered);
  CHECK(verdict.line == 1);
  // Lines of one candidate's file do not fit into another's.
  Desk second;
  second.circuit = CircuitKeys(lock_text(desk.circuit.seed().text()));
  second.key = make_workstation_key(second.circuit, "desk 3");
  keep_whole(second, 600);
  const std::string a = desk.text();
  const std::string b = second.text();
  const std::string mixed = a.substr(0, a.find('\n') + 1) + b.substr(b.find('\n') + 1);
  CHECK(verify_station(mixed, desk.circuit.id()).standing == Standing::altered);
}

TEST_CASE("the file shows a candidate neither patient nor key", "[assessment]") {
  Desk desk;
  desk.the_case["title"] = "Zanzibar under the lamp";
  desk.the_case["expected"] = {{"diagnosis", "exophoria"}};
  keep_whole(desk, 3000);
  const std::string text = desk.text();
  for (const std::string leak : {"Zanzibar", "exophoria", "deviation", "redress-record", "\"seed\"",
                                 "state", "single_or_double"}) {
    INFO(leak);
    CHECK(text.find(leak) == std::string::npos);
  }
  CHECK(text.find(to_hex_text({desk.circuit.seed().data(), desk.circuit.seed().size()})) ==
        std::string::npos);
  CHECK(desk.folder.count() == 1);  // nothing else was written beside it
}

TEST_CASE("a full disk loses nothing: what waits is written when there is room", "[assessment]") {
  // /dev/full answers every write with "no space left".
  AppendFile full("/dev/full", AppendFile::Mode::go_on, 0, false);
  if (full.problem()) return;  // cannot be truncated on this system: covered by the next
  full.append("a line\n");
  CHECK_FALSE(full.flush());
  CHECK(full.waiting_bytes() == 7);
  REQUIRE(full.problem());
  CHECK(full.problem()->message.find("No space left") != std::string::npos);
}

TEST_CASE("an existing file is never written over", "[assessment]") {
  Desk desk;
  keep_whole(desk, 600);
  const std::string before = desk.text();
  {
    StationWriter again(desk.path, desk.identity(), desk.key, desk.header(), false);
    REQUIRE(again.problem());
    CHECK(again.problem()->message.find("cannot be opened") != std::string::npos);
  }
  CHECK(desk.text() == before);
}

TEST_CASE("killed at 200 moments: nothing older than 250 ms is lost, and the station resumes",
          "[assessment]") {
  constexpr int kKills = 200;
  constexpr Tick kUntil = 20'000;
  Desk desk;
  const std::vector<Act> acts = some_acts(kUntil);
  // The clock of the child, where the parent can see it.
  auto* reached = static_cast<Tick*>(
      mmap(nullptr, sizeof(Tick), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0));
  REQUIRE(reached != MAP_FAILED);
  // The whole run, unkilled.
  keep_whole(desk, kUntil);
  const auto whole = record::read_record(open_station(desk.text(), desk.circuit).value().record);
  REQUIRE(whole.ok());
  const std::uint64_t last_state = whole.value().states.back().second;
  const OpenedCircuit circuit = desk.opened_circuit();

  int killed = 0;
  int resumed = 0;
  for (int k = 0; k < kKills; ++k) {
    ::unlink(desk.path.c_str());
    *reached = -1;
    // Killed as soon as its clock has passed a tick drawn at random: the moment within the tick is
    // the scheduler's.
    const auto target = static_cast<Tick>(
        random_uniform(5, Stream::examiner, static_cast<std::uint64_t>(k)) * 19'500.0);
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      StationWriter writer(desk.path, desk.identity(), desk.key, desk.header(), false);
      Examination exam(desk.setup, {77, 1.0, true}, first_target(acts));
      std::size_t next = 0;
      while (true) {
        record::observe_tick(exam, writer);
        for (; next < acts.size() && acts[next].at_ms <= exam.now(); ++next) {
          record::perform(exam, acts[next], writer);
        }
        __atomic_store_n(reached, exam.now(), __ATOMIC_SEQ_CST);
        if (exam.now() >= kUntil) break;
        record::finish_tick(exam, writer);
      }
      pause();
      _exit(0);
    }
    while (__atomic_load_n(reached, __ATOMIC_SEQ_CST) < target) {
    }
    kill(child, SIGKILL);
    int status = 0;
    waitpid(child, &status, 0);
    if (WIFSIGNALED(status)) ++killed;
    const Tick clock = *reached;

    const std::string text = desk.text();
    const auto opened = open_station(text, desk.circuit);
    REQUIRE(opened.ok());
    REQUIRE(opened.value().verdict.standing == Standing::cut_short);
    const auto cut = record::read_cut_record(opened.value().record);
    REQUIRE(cut.ok());
    const record::Record& record = cut.value().record;
    const Tick kept = record::calc_last_tick(record);
    CHECK(kept >= clock - kKeptEveryMs);
    std::size_t expected = 0;
    while (expected < acts.size() && acts[expected].at_ms < clock - kKeptEveryMs) ++expected;
    CHECK(record.acts.size() >= expected);

    // On another workstation, to the end.
    const auto station = read_resumable(text, circuit, desk.identity());
    REQUIRE(station.ok());
    const WorkstationKey spare = make_workstation_key(desk.circuit, "desk 9");
    {
      StationWriter writer(desk.path, station.value(), desk.header(), spare, false);
      const bool begun = station.value().has_begun();
      Result<Examination> exam = begun
                                     ? resume_examination(record, desk.setup)
                                     : Examination(desk.setup, {77, 1.0, true}, first_target(acts));
      REQUIRE(exam.ok());
      Examination going = std::move(exam).value();
      sit_on(going, acts, record.acts.size(), kUntil, begun, writer);
    }
    const StationVerdict verdict = verify_station(desk.text(), desk.circuit.id());
    CHECK(verdict.intact());
    CHECK(verdict.resumptions == 1);
    const auto after = record::read_record(open_station(desk.text(), desk.circuit).value().record);
    REQUIRE(after.ok());
    CHECK(after.value().states.back().second == last_state);
    CHECK(after.value().acts.size() == acts.size());
    if (verdict.resumptions == 1) ++resumed;
  }
  munmap(reached, sizeof(Tick));
  CHECK(killed == kKills);
  CHECK(resumed == kKills);
}

TEST_CASE("only what was cut short is resumed, by whom it belongs to, with its credits",
          "[assessment]") {
  Desk desk;
  keep_whole(desk, 3000);
  const std::string text = desk.text();
  const OpenedCircuit circuit = desk.opened_circuit();
  const auto refusal = [&](std::string_view kept, const StationIdentity& wanted) {
    const auto station = read_resumable(kept, circuit, wanted);
    return station.ok() ? std::string{} : station.problems().front().message;
  };
  CHECK(refusal(text, desk.identity()).find("handed in whole") != std::string::npos);
  const std::string cut = text.substr(0, text.rfind("{\"at_ms\":3000"));
  CHECK(refusal(cut, desk.identity()).empty());
  StationIdentity other = desk.identity();
  other.candidate = "0418";
  CHECK(refusal(cut, other) ==
        "is of candidate 0417, station 4; wanted: candidate 0418, station 4");
  std::string altered = cut;
  altered[altered.size() / 2] ^= 1;
  CHECK(refusal(altered, desk.identity()).find("was altered at line") == 0);
  OpenedCircuit changed = desk.opened_circuit();
  changed.forms[3][0].written["seed"] = 12345;
  CHECK(read_resumable(cut, changed, desk.identity())
            .problems()
            .front()
            .message.find("another patient") != std::string::npos);
  // Cut within its first line, of the file or of the record: it begins at 0 again.
  const std::size_t first = text.find('\n') + 1;
  const auto at_start = read_resumable(text.substr(0, first), circuit, desk.identity());
  REQUIRE(at_start.ok());
  CHECK_FALSE(at_start.value().has_begun());
  CHECK(at_start.value().opened.verdict.used_ms == 0);

  Station station;
  station.time_s = 300;
  CHECK(calc_hard_stop(station, {}) == 300'000);
  const std::vector<DeskEvent> events{{1000, "time_credit", json{{"ms", 30'000}, {"reason", "x"}}},
                                      {1000, "comment", json{{"ms", 99'000}}},
                                      {2000, "time_credit", json{{"ms", 500}, {"reason", "y"}}},
                                      {2000, "time_credit", json{{"ms", "much"}}}};
  CHECK(calc_hard_stop(station, events) == 330'500);
}
