// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/marks_csv.hpp"

#include <algorithm>
#include <charconv>
#include <map>
#include <set>
#include <system_error>
#include <utility>
#include <vector>

#include "sim/basics/json_reader.hpp"

namespace redress::assessment {

namespace {

constexpr std::size_t kFixedColumns = 6;

std::string header() {
  std::string line = "candidate,station,marks,unsafe,finished,rating";
  for (const scoring::RubricLine& item : scoring::kRubric) {
    line += std::string(",") + item.name;
  }
  return line;
}

std::vector<std::string_view> split(std::string_view line) {
  std::vector<std::string_view> cells;
  for (;;) {
    const std::size_t comma = line.find(',');
    cells.push_back(line.substr(0, comma));
    if (comma == std::string_view::npos) return cells;
    line.remove_prefix(comma + 1);
  }
}

std::optional<double> read(std::string_view cell, double low, double high) {
  double value = 0.0;
  const auto found = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (found.ec != std::errc{} || found.ptr != cell.data() + cell.size()) return std::nullopt;
  if (!(value >= low && value <= high)) return std::nullopt;
  return value;
}

// Nothing: some cell is not what the header says.
std::optional<CohortMark> read_mark(const std::vector<std::string_view>& cells) {
  CohortMark mark;
  const auto marks = read(cells[2], 0.0, 100.0);
  const auto unsafe = read(cells[3], 0.0, 1.0);
  const auto finished = read(cells[4], 0.0, 1.0);
  if (!marks || !unsafe || !finished) return std::nullopt;
  mark.marks = *marks;
  mark.unsafe = *unsafe > 0.5;
  mark.finished = *finished > 0.5;
  if (!cells[5].empty()) {
    const auto found = std::find(kRatingNames.begin(), kRatingNames.end(), cells[5]);
    if (found == kRatingNames.end()) return std::nullopt;
    mark.rating = static_cast<GlobalRating>(found - kRatingNames.begin());
  }
  for (std::size_t i = kFixedColumns; i < cells.size(); ++i) {
    const auto share = cells[i].empty() ? std::optional(-1.0) : read(cells[i], 0.0, 1.0);
    if (!share) return std::nullopt;
    mark.shares.push_back(*share);
  }
  return mark;
}

}  // namespace

std::string make_marks_csv(const Cohort& cohort) {
  const std::vector<std::size_t> scored = find_scored(cohort.circuit);
  std::string text = header() + "\n";
  for (const CohortRow& row : cohort.rows) {
    for (std::size_t i = 0; i < scored.size(); ++i) {
      const CohortMark& mark = row.stations[i];
      text += row.candidate + "," + std::to_string(scored[i] + 1) + "," +
              redress::to_text(mark.marks) + (mark.unsafe ? ",1" : ",0") +
              (mark.finished ? ",1," : ",0,");
      if (mark.rating) text += kRatingNames[static_cast<std::size_t>(*mark.rating)];
      for (std::size_t item = 0; item < scoring::kItemCount; ++item) {
        const bool there = item < mark.shares.size() && mark.shares[item] >= 0.0;
        text += "," + (there ? redress::to_text(mark.shares[item]) : std::string());
      }
      text += "\n";
    }
  }
  return text;
}

Problems add_marks_csv(std::string_view text, Cohort& cohort) {
  const std::vector<std::size_t> scored = find_scored(cohort.circuit);
  std::set<std::string> there;
  for (const CohortRow& row : cohort.rows) there.insert(row.candidate);
  std::map<std::string, std::vector<std::optional<CohortMark>>> read_rows;
  std::size_t number = 0;
  const auto refuse = [&](std::string why) {
    return Problems{{"line " + std::to_string(number), std::move(why)}};
  };
  while (!text.empty()) {
    ++number;
    const std::size_t end = text.find('\n');
    if (end == std::string_view::npos) return refuse("has no line end: the file was cut short");
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(end + 1);
    if (number == 1) {
      if (line != header()) return refuse("is not the header; allowed: " + header());
      continue;
    }
    const std::vector<std::string_view> cells = split(line);
    if (cells.size() != kFixedColumns + scoring::kItemCount) {
      return refuse("has " + std::to_string(cells.size()) +
                    " columns; allowed: " + std::to_string(kFixedColumns + scoring::kItemCount));
    }
    const std::string candidate(cells[0]);
    const auto station = read(cells[1], 1.0, 1000.0);
    const auto place =
        station ? std::find(scored.begin(), scored.end(), static_cast<std::size_t>(*station) - 1)
                : scored.end();
    if (place == scored.end()) return refuse("names no station of the circuit that is marked");
    if (there.count(candidate) > 0) return refuse("has candidate " + candidate + " again");
    auto mark = read_mark(cells);
    if (!mark) return refuse("holds something that is no mark, share, word or 0 or 1");
    auto& row = read_rows[candidate];
    row.resize(scored.size());
    auto& cell = row[static_cast<std::size_t>(place - scored.begin())];
    if (cell) return refuse("has the station again");
    cell = std::move(mark);
  }
  if (number == 0) return Problems{{"", "is empty"}};
  std::vector<CohortRow> rows;
  for (auto& [candidate, cells] : read_rows) {
    CohortRow row{candidate, {}, {}};
    for (auto& cell : cells) {
      if (!cell) return Problems{{"", "candidate " + candidate + " lacks a station"}};
      row.stations.push_back(std::move(*cell));
    }
    rows.push_back(std::move(row));
  }
  cohort.rows.insert(cohort.rows.end(), rows.begin(), rows.end());
  return {};
}

void sort_rows(Cohort& cohort) {
  std::stable_sort(
      cohort.rows.begin(), cohort.rows.end(),
      [](const CohortRow& a, const CohortRow& b) { return a.candidate < b.candidate; });
}

}  // namespace redress::assessment
