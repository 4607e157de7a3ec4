// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// assessment_bench [CANDIDATES]: how long a day of assessment takes to come together, as JSON.
// Clock time, for people; nothing is tested by it. Stations are of full size (five minutes, 1200
// signed lines, about 430 KB), for CANDIDATES (50) of the 500, since making them takes longer than
// handing them in; what is projected says so. The report is of 500 candidates at 12 stations.
#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <span>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

#include <nlohmann/json.hpp>

#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/report.hpp"
#include "sim/assessment/results.hpp"
#include "sim/assessment/station_lines.hpp"
#include "sim/assessment/store.hpp"
#include "sim/basics/random.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/program/paper.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"
#include "sim/record/verify.hpp"
#include "sim/record/write_run.hpp"
#include "tests/support/postgres_server.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::assessment;
using nlohmann::json;
using nlohmann::ordered_json;

namespace {

constexpr std::size_t kStations = 12;
constexpr std::size_t kAll = 500;
constexpr int kWorkstations = 16;

double now_s() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

// Of this process, all threads: what is left of the clock is waiting, for the disk or for others.
struct Used {
  double user_s = 0;
  double system_s = 0;
  Used operator-(const Used& o) const { return {user_s - o.user_s, system_s - o.system_s}; }
};
Used used_so_far() {
  rusage used{};
  getrusage(RUSAGE_SELF, &used);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return {seconds(used.ru_utime), seconds(used.ru_stime)};
}

[[noreturn]] void give_up(const std::string& why) {
  std::fprintf(stderr, "assessment_bench: %s\n", why.c_str());
  std::exit(1);
}

struct Day {
  CircuitKeys circuit;
  WorkstationKey key = make_workstation_key(circuit, "desk 1");

  [[nodiscard]] HandIn station(std::size_t candidate, std::size_t number, int lines) const {
    auto [stream, secret] = KeptStream::make(circuit.id());
    std::string chain;
    std::string text = make_signed_line(ordered_json{{"format", "redress-station"},
                                                     {"version", 1},
                                                     {"circuit", to_text(circuit.id())},
                                                     {"workstation", key.workstation},
                                                     {"candidate", std::to_string(candidate)},
                                                     {"station", number + 1},
                                                     {"key", to_hex_text(key.key.public_key())},
                                                     {"certificate", key.certificate},
                                                     {"secret", secret.secret},
                                                     {"header", secret.header}}
                                            .dump(),
                                        key.key, chain);
    const std::string plain(138, 'x');  // a state line of a record
    for (int i = 1; i <= lines; ++i) {
      text += make_signed_line(
          ordered_json{{"at_ms", 250 * i}, {"kept", stream.push(plain)}}.dump(), key.key, chain);
    }
    text += make_signed_line(ordered_json{{"at_ms", 250 * lines}, {"end", true}}.dump(), key.key,
                             chain);
    return {text, "2026-11-24T10:00:00Z"};
  }
};

Store opened(const std::string& where) {
  Result<Store> store = Store::open(where);
  if (!store) give_up(store.problems().front().message);
  return std::move(store).value();
}

// As workstations hand in, `together` stations in one transaction, each by one of so many at once.
ordered_json hand_in(const std::string& where, const std::vector<HandIn>& stations, int at_once,
                     std::size_t together, double scale) {
  { const Store made = opened(where); }
  const double begin = now_s();
  const Used before = used_so_far();
  std::vector<std::thread> desks;
  for (int w = 0; w < at_once; ++w) {
    desks.emplace_back([&, w] {
      Store store = opened(where);
      for (std::size_t i = static_cast<std::size_t>(w) * together; i < stations.size();
           i += static_cast<std::size_t>(at_once) * together) {
        const std::size_t count = std::min(together, stations.size() - i);
        const auto received = store.hand_in(std::span(&stations[i], count));
        if (!received || received.value().added != count) give_up("a station was not taken");
      }
    });
  }
  for (std::thread& desk : desks) desk.join();
  const double took = now_s() - begin;
  const Used used = used_so_far() - before;
  return {{"together", together},
          {"seconds", took},
          {"user_s", used.user_s},
          {"system_s", used.system_s},
          {"projected_500_candidates_s", took * scale},
          {"projected_user_s", used.user_s * scale},
          {"projected_system_s", used.system_s * scale}};
}

// 500 candidates' scores in a store, and all that is made of them.
ordered_json measure_report(const Day& day, const std::string& where) {
  Store store = opened(where);
  const std::string id = to_text(day.circuit.id());
  std::vector<HandIn> stations;
  for (std::size_t c = 0; c < kAll; ++c) {
    for (std::size_t s = 0; s < kStations; ++s) stations.push_back(day.station(c, s, 1));
  }
  if (!store.hand_in(stations)) give_up("the store does not take the stations");
  std::vector<StoredScore> scores;
  const std::vector<StoredStation> handed_in = store.list(id).value();
  for (const StoredStation& station : handed_in) {
    StationScore score;
    const auto key = static_cast<std::uint64_t>(std::stoul(station.candidate));
    const double ability = random_normal(1, Stream::examiner, key);
    const double own =
        random_normal(1, Stream::examiner, key, 1 + static_cast<std::uint32_t>(station.station));
    const double share = std::clamp(0.65 + 0.12 * ability + 0.12 * own, 0.0, 1.0);
    score.sheet.total = 100.0 * share;
    for (const scoring::RubricLine& line : scoring::kRubric) {
      score.sheet.items.push_back({line.item, 4.0, 4.0 * share, scoring::Grade::half, "", {}});
    }
    score.sizes = {{10.0 + own, 10.0}, {20.0 + 2.0 * own, 20.0}};
    scores.push_back({station.id, score.sheet.total, false, to_text(score)});
  }
  if (store.put_scores(scores)) give_up("the store does not take the scores");

  Circuit circuit;
  circuit.title = "bench";
  circuit.stations.resize(kStations);
  const double begin = now_s();
  std::vector<ScoredStation> scored;
  const auto list = store.list(id).value();
  const auto sheets = store.list_scores(id).value();
  for (std::size_t i = 0; i < list.size(); ++i) {
    scored.push_back({list[i], parse_station_score(sheets[i].sheet).value()});
  }
  const GatheredCohort gathered = gather_cohort(circuit, std::move(scored), {});
  const CohortFigures figures = calc_figures(gathered.cohort);
  const ReportHead head{"0000 0000 0000", "bench", "", false};
  const ReportDocument document = make_cohort_document(gathered.cohort, figures, head);
  const std::size_t bytes = make_html(document).size() + make_csv(gathered.cohort, figures).size() +
                            make_json(gathered.cohort, figures, head).dump().size();
  const double without_paper = now_s() - begin;
  const bool paper = program::make_pdf(document).ok();
  return {{"candidates", figures.candidates},
          {"stations", kStations},
          {"bytes", bytes},
          {"html_csv_json_s", without_paper},
          {"with_pdf_s", paper ? json(now_s() - begin) : json(nullptr)}};
}

ordered_json measure_record() {
  const json the_case = json::parse(R"({"format": "redress-case", "version": 1, "title": "bench",
    "deviation": {"distance_pd": -2, "near_pd": -8}})");
  const ExaminationSetup setup = setup_of(parse_case(the_case).value());
  std::vector<Act> acts;
  constexpr Tick kEnd = 600'000;
  for (Tick t = 1000; t < kEnd; t += 3000) {
    acts.push_back({t, act::Cover{}});
    acts.push_back({t + 1500, act::Uncover{}});
  }
  std::ostringstream out;
  if (record::write_run(out, the_case, setup, {1, 1.0, true}, acts, kEnd)) {
    give_up("the record cannot be written");
  }
  const std::string text = out.str();
  double begin = now_s();
  if (!record::verify(text).whole()) give_up("the record is not whole");
  const double verified = now_s() - begin;
  begin = now_s();
  const auto record = record::read_record(text);
  if (!record || !record::replay(record.value(), setup).agrees) give_up("it does not replay");
  return {{"minutes", 10}, {"verify_s", verified}, {"replay_s", now_s() - begin}};
}

}  // namespace

int main(int argc, char** argv) {
  const std::size_t candidates = argc > 1 ? std::stoul(argv[1]) : 50;
  const Day day;
  std::vector<HandIn> stations;
  const double begin = now_s();
  std::size_t bytes = 0;
  for (std::size_t c = 0; c < candidates; ++c) {
    for (std::size_t s = 0; s < kStations; ++s) {
      stations.push_back(day.station(c, s, 1200));
      bytes += stations.back().content.size();
    }
  }
  const double scale = static_cast<double>(kAll) / static_cast<double>(candidates);
  ordered_json out{{"candidates", candidates},
                   {"stations", stations.size()},
                   {"mean_bytes", bytes / stations.size()},
                   {"making_s", now_s() - begin}};
  tests::TemporaryFolder folder;
  out["sqlite_one_by_one"] = hand_in(folder / "one.sqlite", stations, 1, 1, scale);
  out["sqlite"] = hand_in(folder / "day.sqlite", stations, 1, kStations, scale);
  tests::PostgresServer server;
  if (server.installed() && server.running()) {
    out["postgresql_16_at_once"] = hand_in(server.address(), stations, kWorkstations, 1, scale);
  }
  out["report"] = measure_report(day, folder / "report.sqlite");
  out["record"] = measure_record();
  std::printf("%s\n", out.dump(2).c_str());
  return 0;
}
