// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// hand-in, mark, results: what comes after the day.
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "sim/assessment/marks.hpp"
#include "sim/assessment/report.hpp"
#include "sim/assessment/results.hpp"
#include "sim/assessment/score_store.hpp"
#include "sim/assessment/store.hpp"
#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/program/assessment_verbs.hpp"
#include "sim/program/passphrase.hpp"
#include "sim/program/verbs.hpp"
#include "sim/record/record_format.hpp"

namespace redress::program {

using namespace assessment;

namespace {

Result<std::vector<Ledger>> load_ledgers(const std::vector<std::string>& paths,
                                         const CircuitId& circuit) {
  std::vector<Ledger> ledgers;
  for (const std::string& path : paths) {
    const Result<std::string> text = read_file(path);
    auto ledger = text ? read_ledger(text.value(), circuit) : Result<Ledger>(text.problems());
    if (!ledger) {
      Problems problems = ledger.problems();
      for (Problem& p : problems) p.place = path + (p.place.empty() ? "" : ": " + p.place);
      return problems;
    }
    ledgers.push_back(std::move(ledger).value());
  }
  return ledgers;
}

std::optional<Problem> write_unless_empty(const std::string& path, const std::string& text) {
  return path.empty() ? std::nullopt : write_whole_file(path, text);
}

// One line of the entries that an assessor hands over: {"candidate","station","item","engine",
// "most","marks","reason"} or {"candidate","station","rating"}.
Result<std::string> sign_entry(const nlohmann::json& value, const WorkstationKey& key,
                               std::string& chain) {
  Problems problems;
  ObjectReader reader(value, "", problems);
  const std::string candidate = reader.required_string("candidate", 400).value_or("");
  const auto station =
      static_cast<std::size_t>(reader.required_integer("station", 1, 60).value_or(1) - 1);
  if (reader.has("rating")) {
    NamedValue<GlobalRating> names[kRatingNames.size()];
    for (std::size_t i = 0; i < kRatingNames.size(); ++i) {
      names[i] = {kRatingNames[i], static_cast<GlobalRating>(i)};
    }
    const auto rating = reader.required_enumerated("rating", names);
    reader.finish();
    if (!problems.empty()) return problems;
    return write_rating({candidate, station, *rating}, key, chain);
  }
  NamedValue<scoring::Item> items[scoring::kItemCount];
  for (std::size_t i = 0; i < scoring::kItemCount; ++i) {
    items[i] = {scoring::kRubric[i].name, scoring::kRubric[i].item};
  }
  Overruling o;
  o.candidate = candidate;
  o.station = station;
  o.item = reader.required_enumerated("item", items).value_or(scoring::Item::a1);
  const double most = reader.required_number("most", 0.0, 100.0).value_or(0.0);
  o.engine = reader.required_number("engine", 0.0, 100.0).value_or(0.0);
  o.marks = reader.required_number("marks", 0.0, 100.0).value_or(0.0);
  o.reason = reader.required_string("reason", 4000).value_or("");
  reader.finish();
  if (!problems.empty()) return problems;
  return write_overruling(o, most, key, chain);
}

}  // namespace

int hand_in(const HandInOptions& options) {
  Result<Store> store = Store::open(options.store);
  if (!store) return report("store", store.problems());
  Store open = std::move(store).value();
  int code = 0;
  for (const std::string& path : options.paths) {
    const Result<std::string> text = read_file(path);
    if (!text) {
      code = report(path, text.problems());
      continue;
    }
    const std::vector<HandIn> one{{text.value(), options.at}};
    const auto received = open.hand_in(one);
    if (!received) {
      code = report(path, received.problems());
      continue;
    }
    fmt::print("{}: {}\n", path,
               received.value().added == 1 ? "handed in" : "was there already; it counts once");
  }
  return code;
}

int mark(const MarkOptions& options) {
  if (const auto problem =
          check_paths({options.sealed_path, options.entries_path}, {options.out_path})) {
    return report("mark", *problem);
  }
  const Result<std::string> text = read_file(options.entries_path);
  if (!text) return report(options.entries_path, text.problems());
  const auto circuit = open_with_passphrase(options.sealed_path);
  if (!circuit) return report(options.sealed_path, circuit.problems());
  const WorkstationKey key = make_workstation_key(circuit.value().keys, options.assessor);
  std::string chain;
  std::string ledger = begin_ledger(circuit.value().keys.id(), key, chain);
  Problems problems;
  std::size_t number = 0;
  for (std::size_t at = 0; at < text.value().size();) {
    const std::size_t end = std::min(text.value().find('\n', at), text.value().size());
    const std::string line = text.value().substr(at, end - at);
    at = end + 1;
    ++number;
    if (line.empty()) continue;
    const auto value = parse_json(line);
    const auto signed_line =
        value ? sign_entry(value.value(), key, chain) : Result<std::string>(value.problems());
    if (signed_line) {
      ledger += signed_line.value();
      continue;
    }
    for (const Problem& p : signed_line.problems()) {
      problems.push_back({fmt::format("line {}: {}", number, p.place), p.message});
    }
  }
  if (!problems.empty()) return report(options.entries_path, problems);
  if (const auto problem = write_whole_file(options.out_path, ledger)) {
    return report(options.out_path, *problem);
  }
  fmt::print("{}: {} entries signed by {}\n", options.out_path, number, options.assessor);
  return 0;
}

int results(const ResultsOptions& options) {
  std::vector<std::string> inputs = options.ledgers;
  inputs.push_back(options.sealed_path);
  if (const auto problem =
          check_paths(inputs, {options.html_path, options.csv_path, options.xapi_path})) {
    return report("results", *problem);
  }
  const auto circuit = open_with_passphrase(options.sealed_path);
  if (!circuit) return report(options.sealed_path, circuit.problems());
  const OpenedCircuit& o = circuit.value();
  const auto ledgers = load_ledgers(options.ledgers, o.keys.id());
  if (!ledgers) return report("marks", ledgers.problems());
  Result<Store> opened = Store::open(options.store);
  if (!opened) return report("store", opened.problems());
  Store store = std::move(opened).value();
  auto scored = score_store(store, o);
  if (!scored) return report("store", scored.problems());
  for (const Problem& p : scored.value().left_out) (void)report(p.place, Problem{"", p.message});
  const GatheredCohort gathered =
      gather_cohort(o.circuit, std::move(scored).value().stations, ledgers.value());
  for (const std::string& remark : gathered.remarks) fmt::print(stderr, "results: {}\n", remark);
  const Cohort& cohort = gathered.cohort;
  if (cohort.rows.empty()) {
    return report("results", Problem{"", "no candidate has every station of this circuit"});
  }
  const CohortFigures figures = calc_figures(cohort);
  const ReportHead head{to_short_text(o.keys.id()), std::string(record::kEngineVersion),
                        options.when, false};
  std::string html;
  if (options.candidate.empty()) {
    html = make_cohort_report(cohort, figures, head);
  } else {
    const auto row = std::find_if(cohort.rows.begin(), cohort.rows.end(), [&](const CohortRow& r) {
      return r.candidate == options.candidate;
    });
    if (row == cohort.rows.end()) {
      return report("results", Problem{"", "there is no candidate " + options.candidate});
    }
    const auto index = static_cast<std::size_t>(row - cohort.rows.begin());
    html = make_candidate_report(cohort, figures, index, head);
  }
  const XapiContext context{options.home_page, options.home_page + "/redress", options.when};
  const std::string xapi =
      options.xapi_path.empty()
          ? ""
          : make_xapi(cohort, figures, to_text(o.keys.id()), context).dump(2) + "\n";
  for (const auto& [path, text] :
       {std::pair(options.html_path, html), std::pair(options.csv_path, make_csv(cohort, figures)),
        std::pair(options.xapi_path, xapi)}) {
    if (const auto problem = write_unless_empty(path, text)) return report(path, *problem);
  }
  fmt::print("{}\n", make_json(cohort, figures, head).dump(2));
  return 0;
}

}  // namespace redress::program
