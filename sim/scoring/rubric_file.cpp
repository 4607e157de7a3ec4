// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/rubric_file.hpp"

#include <string>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/basics/json_reader.hpp"

namespace redress::scoring {

using nlohmann::json;

namespace {

constexpr std::int64_t kVersion = 1;
constexpr std::size_t kTitleBytes = 200;
constexpr double kSumRoom = 0.005;

void check_header(ObjectReader& reader) {
  const json* format = reader.raw("format");
  if (format == nullptr || *format != "redress-rubric") {
    reader.report("format", "is " + (format == nullptr ? "missing" : short_text(*format)) +
                                "; allowed: \"redress-rubric\"");
  }
  const json* version = reader.raw("version");
  if (version != nullptr && version->is_number() &&
      version->get<double>() > static_cast<double>(kVersion)) {
    reader.report("version", "is of a newer version (" + short_text(*version) +
                                 "; this one reads " + std::to_string(kVersion) + ")");
  } else if (version == nullptr || *version != kVersion) {
    reader.report("version", "is " + (version == nullptr ? "missing" : short_text(*version)) +
                                 "; allowed: " + std::to_string(kVersion));
  }
}

void check_sum(ObjectReader& reader, const char* column,
               const std::array<double, kItemCount>& weights) {
  double sum = 0.0;
  for (const double weight : weights) sum += weight;
  if (elementary::magnitude(sum - 100.0) <= kSumRoom) return;
  reader.report("weights", fmt::format("column {} comes to {}; allowed: 100", column, sum));
}

}  // namespace

Result<Rubric> read_rubric_text(std::string_view text) {
  const Result<json> parsed = parse_json(text);
  if (!parsed) return parsed.problems();
  Problems problems;
  ObjectReader reader(parsed.value(), "", problems);
  if (!reader.is_object()) return problems;
  check_header(reader);
  if (!problems.empty()) return problems;
  Rubric rubric;
  rubric.title = reader.string("title", kTitleBytes, "without a title");
  ObjectReader pass = reader.object("pass");
  rubric.formative_pass = pass.number("P", 0.0, 100.0, rubric.formative_pass);
  rubric.station_pass = pass.number("O", 0.0, 100.0, rubric.station_pass);
  pass.finish();
  ObjectReader weights = reader.required_object("weights");
  for (const RubricLine& line : kRubric) {
    const auto i = static_cast<std::size_t>(line.item);
    ObjectReader item = weights.required_object(line.name);
    rubric.formative[i] = item.required_number("P", 0.0, 100.0).value_or(0.0);
    rubric.station[i] = item.required_number("O", 0.0, 100.0).value_or(0.0);
    item.finish();
  }
  weights.finish();
  reader.finish();
  if (problems.empty()) {
    check_sum(reader, "P", rubric.formative);
    check_sum(reader, "O", rubric.station);
  }
  if (!problems.empty()) return problems;
  return rubric;
}

nlohmann::ordered_json to_json(const Rubric& rubric) {
  nlohmann::ordered_json weights;
  for (const RubricLine& line : kRubric) {
    weights[line.name] = {{"P", rubric.weight(line.item, Column::formative)},
                          {"O", rubric.weight(line.item, Column::station)}};
  }
  return {{"format", "redress-rubric"},
          {"version", kVersion},
          {"title", rubric.title},
          {"pass", {{"P", rubric.formative_pass}, {"O", rubric.station_pass}}},
          {"weights", std::move(weights)}};
}

}  // namespace redress::scoring
