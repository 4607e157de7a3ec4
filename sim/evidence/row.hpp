// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One row of the report that holds the model against the literature: a quantity, what is published
// about it and by whom, and a function that asks the engine. Nothing here is a copied figure of the
// engine: each row computes its own when it is run.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace redress::evidence {

class Bench;

/// How well the published value is known.
enum class Standing : std::uint8_t {
  read,             ///< read in the source itself, its abstract or a table from it
  from_memory,      ///< textbook knowledge that was not read again
  common_practice,  ///< a fact of the trade, or a judgement, without a source
  derived,          ///< arithmetic on values that were read
};

enum class Verdict : std::uint8_t { within, outside, not_simulated };

/// What the engine's figure must be: a number from `low` to `high`, inclusive, or a word.
struct Published {
  std::string text;  ///< as the report prints it
  std::optional<double> low;
  std::optional<double> high;
  std::string word;  ///< not empty: the answer in words
};

Published about(double value, double margin);
/// One standard deviation either way.
Published mean_and_sd(double mean, double sd);
Published between(double low, double high);
Published at_least(double low);
Published at_most(double high);
Published exactly(std::string word);
/// As printed by the source, where that says more than the interval.
Published printed(std::string text, Published interval);

/// What the engine came to.
struct Figure {
  std::optional<double> number;
  std::string word;
  std::string remark;  ///< beside the figure
};

inline Figure figure(double number, std::string remark = {}) {
  return {number, {}, std::move(remark)};
}
inline Figure in_words(std::string word, std::string remark = {}) {
  return {std::nullopt, std::move(word), std::move(remark)};
}

struct Row {
  std::string id;
  std::string group;
  std::string quantity;
  Published published;
  std::string unit;  ///< empty: none
  std::string source;
  Standing standing = Standing::read;
  /// May end early by throwing NotSimulated or DidNotHappen (sim/evidence/bench.hpp).
  std::function<Figure(Bench&)> measure;
};

/// A row that was run.
struct Outcome {
  std::string id;
  std::string group;
  std::string quantity;
  Published published;
  std::string unit;
  std::string source;
  Standing standing = Standing::read;
  Verdict verdict = Verdict::not_simulated;
  std::string engine;  ///< the engine's value as printed; empty: none
  std::string remark;  ///< why there is no value, or what goes with it
  std::string why;     ///< outside: why; see sim/evidence/misses.hpp
};

/// Every row, group after group. No id occurs twice.
std::vector<Row> all_rows();

/// Runs one row. The same rows give the same outcomes, in any order.
Outcome run_row(const Row& row, Bench& bench);
/// Runs all of them on one bench: rows that share a simulation share it.
std::vector<Outcome> run_rows(const std::vector<Row>& rows);

/// For printing: at most four decimals, no trailing zeros, no negative zero.
std::string format_number(double number);

}  // namespace redress::evidence
