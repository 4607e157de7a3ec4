// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Fusional reserves as measured with a bar and both eyes open: a part of
// sim/scoring/called_for.hpp.
#pragma once

#include <optional>
#include <string_view>

#include "sim/scoring/examined.hpp"
#include "sim/scoring/items.hpp"

namespace redress::scoring {

/// Steps of a prism bar with both eyes open, one base, up to where single vision was lost and down
/// to where it came back. Labels.
struct ReserveRun {
  Tick at_ms = 0;
  findings::Setting setting;
  std::optional<double> blur_pd;  ///< where the patient, asked, first said that it was blurred
  std::optional<double> break_pd;
  std::optional<double> recovery_pd;
  double reached_pd = 0.0;
};
/// The longest run with this base ("in", "out", "up", "down"; up and down before the right eye).
std::optional<ReserveRun> find_reserve_run(const findings::Evidence& evidence,
                                           std::string_view base);

double share_of_reserves(const Examined& x, Mark& mark);

}  // namespace redress::scoring
