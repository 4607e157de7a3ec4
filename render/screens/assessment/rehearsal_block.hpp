// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The whole circuit tried with simulated candidates, as a block of the composing page: who sits it,
// how far it is, and what it came to. Shares in per cent, marks of 100.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "render/screens/assessment/column.hpp"
#include "sim/assessment/cohort.hpp"

namespace redress::screens::assessment {

/// How many of whom are sent through.
struct RehearsalWish {
  double candidates = 200;
  /// Parts of novices, trainees, experts (sim/assessment/practitioner.hpp); they need not sum to
  /// 100.
  std::array<double, redress::assessment::kSkills.size()> parts{0, 100, 0};
  bool operator==(const RehearsalWish&) const = default;

  [[nodiscard]] bool has_people() const;
};

struct RehearsalModel {
  RehearsalWish wish;
  bool ready = false;  ///< every station has been tried, and each has a patient
  bool running = false;
  std::size_t done = 0;  ///< candidates, while it runs
  /// None before the first; kept, in paler ink, while a newer one runs.
  std::optional<redress::assessment::CohortFigures> figures;
  RehearsalWish of;       ///< what `figures` are of
  bool outdated = false;  ///< the circuit was changed since
  std::string told;       ///< "“...” was written."
};

struct RehearsalOutcome {
  bool begin = false;
  bool stop = false;
  bool write = false;  ///< the report of `figures`
};
RehearsalOutcome draw_rehearsal(Ui& ui, Column& c, RehearsalModel& model);

}  // namespace redress::screens::assessment
