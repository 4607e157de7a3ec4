// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A station's debrief, released to its candidate by an assessor: until then nobody at a workstation
// can see one. One file of JSON in clear: the record, how its marks are counted, and what assessors
// overruled. It shows what was there, so that it is written when nobody is still to sit the
// circuit.
//   {"format":"redress-debrief","version":1,"circuit","candidate","station","rubric","weights",
//    "overruled":[{"item","marks","reasons":[...]}],"total","unsafe","record"}
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/assessment/circuit.hpp"
#include "sim/assessment/marks.hpp"
#include "sim/assessment/sealed_circuit.hpp"
#include "sim/basics/problem.hpp"
#include "sim/scoring/score.hpp"

namespace redress::assessment {

struct OverruledItem {
  scoring::Item item = scoring::Item::a1;
  double marks = 0.0;
  std::vector<std::string> reasons;  ///< "assessor: reason"
};

/// How the marks of a station are counted: its column, its weights, and what assessors say.
struct StationMarking {
  scoring::Column column = scoring::Column::formative;
  std::optional<Weights> weights;
  std::vector<OverruledItem> overruled;
  std::optional<double> total;  ///< final; none: that of the sheet

  /// The sheet of `column` with all of it.
  [[nodiscard]] scoring::ScoreSheet apply(scoring::ScoreSheet sheet) const;
};

struct ReleasedDebrief {
  std::string circuit;  ///< short, as reports say it
  std::string candidate;
  std::size_t station = 0;  ///< from 0; the file says it from 1
  StationMarking marking;
  bool unsafe = false;
  std::string record;  ///< whole: closed where it was cut short
};

StationMarking find_marking(const Station& station, const FinalMarks& marks);

/// From what a workstation kept. Problems: of another circuit, altered.
Result<ReleasedDebrief> release_debrief(std::string_view kept_station, const OpenedCircuit& circuit,
                                        const FinalMarks& marks);
std::string to_text(const ReleasedDebrief& released);
Result<ReleasedDebrief> read_released(std::string_view text);
/// "0417-4.debrief".
std::string make_released_name(const std::string& candidate, std::size_t station);

}  // namespace redress::assessment
