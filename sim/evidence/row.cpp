// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/evidence/row.hpp"

#include <cmath>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/evidence/bench.hpp"
#include "sim/evidence/misses.hpp"

namespace redress::evidence {

std::string format_number(double number) {
  if (!std::isfinite(number)) return "no number";
  // Four figures are more than any source prints.
  const double size = elementary::magnitude(number);
  const int decimals = size >= 1000.0  ? 0
                       : size >= 100.0 ? 1
                       : size >= 10.0  ? 2
                       : size >= 1.0   ? 3
                                       : 4;
  std::string text = fmt::format("{:.{}f}", number, decimals);
  if (text.find('.') != std::string::npos) {
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

Published about(double value, double margin) {
  return {format_number(value) + " ± " + format_number(margin), value - margin, value + margin, {}};
}

Published mean_and_sd(double mean, double sd) {
  return {format_number(mean) + " ± " + format_number(sd) + " (SD)", mean - sd, mean + sd, {}};
}

Published between(double low, double high) {
  return {format_number(low) + " to " + format_number(high), low, high, {}};
}

Published at_least(double low) { return {"at least " + format_number(low), low, std::nullopt, {}}; }

Published at_most(double high) {
  return {"at most " + format_number(high), std::nullopt, high, {}};
}

Published exactly(std::string word) { return {word, std::nullopt, std::nullopt, word}; }

Published printed(std::string text, Published interval) {
  interval.text = std::move(text);
  return interval;
}

namespace {

bool agrees(const Published& published, const Figure& found) {
  if (!published.word.empty()) return found.word == published.word;
  if (!found.number || !std::isfinite(*found.number)) return false;
  return !(published.low && *found.number < *published.low) &&
         !(published.high && *found.number > *published.high);
}

}  // namespace

Outcome run_row(const Row& row, Bench& bench) {
  Outcome outcome{row.id,
                  row.group,
                  row.quantity,
                  row.published,
                  row.unit,
                  row.source,
                  row.standing,
                  Verdict::not_simulated,
                  {},
                  {},
                  {}};
  try {
    const Figure found = row.measure(bench);
    outcome.engine = found.number ? format_number(*found.number) : found.word;
    outcome.remark = found.remark;
    outcome.verdict = agrees(row.published, found) ? Verdict::within : Verdict::outside;
  } catch (const NotSimulated& reason) {
    outcome.remark = reason.why;
  } catch (const DidNotHappen& reason) {
    outcome.engine = "did not happen";
    outcome.remark = reason.what;
    outcome.verdict = Verdict::outside;
  }
  if (outcome.verdict == Verdict::outside) outcome.why = find_reason(row.id);
  return outcome;
}

std::vector<Outcome> run_rows(const std::vector<Row>& rows) {
  Bench bench;
  std::vector<Outcome> outcomes;
  outcomes.reserve(rows.size());
  for (const Row& row : rows) outcomes.push_back(run_row(row, bench));
  return outcomes;
}

}  // namespace redress::evidence
