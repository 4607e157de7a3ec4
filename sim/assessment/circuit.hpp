// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A circuit of timed stations, as an assessor composes it. Times in seconds, marks 0 ... 100.
// As a file: sim/assessment/circuit_file.hpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/scoring/rubric.hpp"

namespace redress::assessment {

enum class Instrument : std::uint8_t {
  opaque_occluder,
  translucent_occluder,
  horizontal_bar,
  vertical_bar,
  loose_prisms,
  trial_lenses,
  spectacles,
  penlight,
  ruler
};
inline constexpr std::size_t kInstrumentCount = 9;

/// What a station asks for, as the blueprint counts it.
enum class Procedure : std::uint8_t {
  history,
  cover_uncover,
  alternate_cover,
  prism_cover,
  four_dioptre,
  motility,
  head_tilt,
  near_point,
  reserves,
  ac_a
};

/// Patients drawn by diagnosis (the generator's words) and difficulty 0 ... 1.
struct Family {
  std::string diagnosis;
  double difficulty = 0.5;
  bool operator==(const Family&) const = default;
};

/// Marks for what the rubric's sections come to, in any unit: the rest of a station is scaled to
/// 100. Within a section the rubric's column holds.
struct Weights {
  double findings = 0.0;    ///< D and F: what was written, against what was there
  double technique = 0.0;   ///< A2 ... A4, B, C
  double reasoning = 0.0;   ///< A1 and E: what the story calls for
  double conclusion = 0.0;  ///< G: impression, plan, how soon
  bool operator==(const Weights&) const = default;
};

struct Station {
  std::string name;
  bool rest = false;      ///< nobody to examine; time_s is its length
  std::string case_path;  ///< as written, from the circuit's folder; empty: a family
  std::optional<Family> family;
  /// One: the same for all candidates. More: parallel forms, of which a candidate gets one. Of a
  /// case its chance; of a family the person who is drawn.
  std::vector<std::uint64_t> seeds;
  std::vector<std::string> tasks;  ///< in the candidate's words
  std::vector<Procedure> procedures;
  std::int64_t reading_s = 60;
  std::int64_t time_s = 300;
  scoring::Column column = scoring::Column::station;
  std::optional<Weights> weights;       ///< none: the column as it stands
  std::vector<Instrument> instruments;  ///< allowed
  double magnification = 2.0;           ///< of life size, fixed
  double pass_mark = 50.0;
  bool safety = false;                 ///< must be passed outright
  std::vector<double> angoff_percent;  ///< one a judge: modified Angoff
  bool operator==(const Station&) const = default;
};

enum class StandardMethod : std::uint8_t { fixed, angoff, borderline_regression };

struct Circuit {
  std::string title;
  std::string note;  ///< for assessors
  StandardMethod standard = StandardMethod::fixed;
  double pass_mark = 50.0;            ///< mean mark; of `fixed`, and until the others have data
  std::int64_t stations_to_pass = 0;  ///< at the least
  double forms_within_marks = 5.0;    ///< parallel forms may differ by this much
  std::vector<Station> stations;
  bool operator==(const Circuit&) const = default;
};

/// Stations with a patient, in order.
std::vector<std::size_t> find_scored(const Circuit& circuit);
/// From the first reading to the last station's end.
std::int64_t calc_length_s(const Circuit& circuit);
/// Which of `forms` a candidate gets at a station: the same each time, spread evenly over
/// candidates, and no help in guessing that of another.
std::size_t find_form(std::string_view circuit_id, std::string_view candidate, std::size_t station,
                      std::size_t forms);

}  // namespace redress::assessment
