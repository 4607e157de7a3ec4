// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/room/fault.hpp"

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"

namespace redress {

namespace {

constexpr double kAbsurd = 1e6;

// False for what is not a number, too.
bool is_within_reason(double value) { return elementary::magnitude(value) < kAbsurd; }

// A visitor for the field lists of the states.
class FaultFinder {
 public:
  void operator()(const char* name, double value) {
    if (found || is_within_reason(value)) return;
    found = EngineFault{0, name, value};
  }
  template <class Whole>
  void operator()(const char* /*name*/, Whole /*value*/) {}

  std::optional<EngineFault> found;
};

}  // namespace

std::string to_text(const EngineFault& fault) {
  return fmt::format("stopped at {} ms: {} is {}; allowed: -1e6 to 1e6", fault.at_ms, fault.field,
                     fault.value);
}

// Four sums, so that no addition waits for the last one. What is not a number stays so in a sum,
// and so do infinities, of either sign.
bool is_sound(const patient::State& s) {
  const PerEye<patient::Angles>& gaze = s.gaze;
  const double version = (s.version.horizontal + s.version.vertical) + s.counter_roll_deg;
  const double apart = (s.vergence_deg + s.vertical_vergence_deg) + s.fusion.demand_deg;
  const double right = (gaze.right.horizontal + gaze.right.vertical) + s.torsion_deg.right;
  const double left = (gaze.left.horizontal + gaze.left.vertical) + s.torsion_deg.left;
  const double inside = (s.accommodation.response_d + s.pupil.diameter_mm.right) +
                        (s.lid_open_fraction + s.pupil.diameter_mm.left);
  return is_within_reason((version + apart) + (right + left) + inside);
}

EngineFault find_fault(const patient::State& state, const RoomState& room, Tick at_ms) {
  FaultFinder finder;
  visit_fields(state, finder);
  visit_fields(room, finder);
  EngineFault fault = finder.found.value_or(EngineFault{0, "sum of the state", kAbsurd});
  fault.at_ms = at_ms;
  return fault;
}

}  // namespace redress
