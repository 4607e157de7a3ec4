// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// hand-in, mark: what comes in after the day.
#include <algorithm>
#include <cstdio>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "sim/assessment/hand_in_queue.hpp"
#include "sim/assessment/marks.hpp"
#include "sim/assessment/store.hpp"
#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/program/assessment_verbs.hpp"
#include "sim/program/passphrase.hpp"
#include "sim/program/verbs.hpp"

namespace redress::program {

using namespace assessment;

namespace {

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
  HandInQueue queue(open, [&](const std::string& path, const Result<bool>& is_new) {
    if (!is_new) {
      code = report(path, is_new.problems());
      return;
    }
    fmt::print("{}: {}\n", path,
               is_new.value() ? "handed in" : "was there already; it counts once");
  });
  for (const std::string& path : options.paths) {
    Result<std::string> text = read_file(path);
    if (text) {
      queue.add(path, {std::move(text).value(), options.at});
    } else {
      code = report(path, text.problems());
    }
  }
  queue.flush();
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

}  // namespace redress::program
