// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/prism_steps.hpp"

#include <algorithm>
#include <utility>
#include <vector>

#include "sim/basics/elementary.hpp"
#include "sim/optics/prism.hpp"
#include "sim/optics/sight.hpp"

namespace redress::findings {

namespace {

using elementary::magnitude;

constexpr double kAskewDeg = 10.0;       // rubric C4
constexpr double kStrongPrismPd = 30.0;  // rubric C4
constexpr double kSameSenseDeg = 10.0;
constexpr Tick kAtOnceMs = 600;  // prism and cover, two hands (judgement)

// By what the labels before one eye neutralise. ISO 8429: 0 is base in for the right eye and base
// out for the left; base down before the right eye and base up before the left neutralise a higher
// right eye.
void add_labels(Eye eye, const PrismState& prisms, PrismStep& step) {
  for (const PrismSlot& slot : prisms.slots) {
    if (!slot.filled) continue;
    const optics::LabelParts parts = optics::resolve({slot.prism.label, slot.prism.base});
    step.horizontal_pd -= side_of(eye) * parts.along_0.value;
    step.vertical_pd -= side_of(eye) * parts.along_90.value;
  }
}

bool has_same_sense_stack(const PrismState& prisms) {
  const auto& slots = prisms.slots;
  for (std::size_t i = 0; i < slots.size(); ++i) {
    for (std::size_t k = i + 1; k < slots.size(); ++k) {
      if (!slots[i].filled || !slots[k].filled) continue;
      const double apart = dot(optics::base_direction(slots[i].prism.base),
                               optics::base_direction(slots[k].prism.base));
      if (apart > elementary::cosine(kSameSenseDeg * elementary::kRadiansPerDegree)) return true;
    }
  }
  return false;
}

// What stands before an eye against the one plastic prism, held frontal, that has the sum of its
// labels: both as the target appears through them.
double calc_effect(Eye eye, const RoomParameters& parameters, const RoomState& room) {
  const PrismState& prisms = room.prisms[eye];
  optics::OrientedLabel sum{PrismDioptres{0}, Degrees{0}};
  for (const PrismSlot& slot : prisms.slots) {
    if (slot.filled) sum = optics::combine(sum, {slot.prism.label, slot.prism.base});
  }
  const Vector centre = optics::centre_of_rotation(eye, parameters.interpupillary);
  const Vector target = room.appearance[eye].target;
  const auto is = optics::apparent_direction(centre, target, prisms.stack.view());
  const auto one = optics::make_held_prism(sum.power, optics::Material::plastic, sum.base);
  if (!is || !one) return sum.power.value;
  const auto stack =
      optics::make_stack({&*one, 1}, optics::Hold::frontal, Degrees{0}, centre, Vector{0, 0, -1});
  const auto as_labelled =
      stack ? optics::apparent_direction(centre, target, stack->view()) : std::nullopt;
  if (!as_labelled) return sum.power.value;
  return 100.0 * length(*is - *as_labelled);
}

bool is_askew(const PrismState& prisms) {
  for (const PrismSlot& slot : prisms.slots) {
    if (!slot.filled || slot.prism.label.value <= kStrongPrismPd) continue;
    const bool calibrated =
        prisms.hold == (optics::calibration_of(slot.prism.material) == optics::Calibration::prentice
                            ? optics::Hold::prentice
                            : optics::Hold::frontal);
    // The minimum-deviation position of plastic is less than 10 degrees off up to high powers.
    const bool near_calibrated = calibrated || (prisms.hold == optics::Hold::minimum &&
                                                slot.prism.material == optics::Material::plastic);
    if (!near_calibrated || magnitude(prisms.tilt_deg) > kAskewDeg) return true;
  }
  return false;
}

}  // namespace

bool any_prism(const PrismState& prisms) {
  return std::any_of(prisms.slots.begin(), prisms.slots.end(),
                     [](const PrismSlot& slot) { return slot.filled; });
}

void describe_prisms(const RoomParameters& parameters, const RoomState& room, PrismStep& step) {
  for (const Eye eye : kBothEyes) {
    const PrismState& prisms = room.prisms[eye];
    step.before[eye] = any_prism(prisms);
    add_labels(eye, prisms, step);
    step.same_sense_stack = step.same_sense_stack || has_same_sense_stack(prisms);
    step.held_askew = step.held_askew || is_askew(prisms);
    if (step.before[eye]) {
      step.effect_pd = std::max(step.effect_pd, calc_effect(eye, parameters, room));
    }
  }
}

namespace {

// The middle of these; of an even number, halfway between the two.
double find_middle(std::vector<double> values) {
  if (values.empty()) return 0.0;
  std::sort(values.begin(), values.end());  // equal values are interchangeable
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

// Prism before one eye as the cover came before the other: what the eye behind it still moved.
void measure_with_cover(const Evidence& evidence, PrismStep& step) {
  const Eye behind = step.before.right ? Eye::right : Eye::left;
  const auto is_near = [](Tick a, Tick b) { return a - b <= kAtOnceMs && b - a <= kAtOnceMs; };
  for (const CoverSpan& span : evidence.covers) {
    if (span.eye == behind || span.transfer_in || !is_near(span.from_ms, step.from_ms)) continue;
    step.with_cover = true;
    for (const Movement& m : evidence.movements) {
      const bool answers = m.eye == behind && m.cause == Cause::cover && !m.under_cover &&
                           is_near(m.event_ms, span.from_ms);
      if (answers) step.left_with_cover_pd += m.shown_horizontal_pd();
    }
    return;
  }
}

}  // namespace

// What was left to move behind each set of prisms: at each alternation the movement of the eye that
// was freed, none being 0. The middle one counts: a glance elsewhere or a jerk of fixation is not
// what the prism left.
void measure_prisms(Evidence& evidence) {
  for (PrismStep& step : evidence.prisms) {
    std::vector<double> horizontal;
    std::vector<double> vertical;
    for (const CoverSpan& span : evidence.covers) {
      if (!span.transfer_in || span.from_ms < step.from_ms || span.from_ms >= step.to_ms) continue;
      ++step.transfers;
      horizontal.push_back(0.0);
      vertical.push_back(0.0);
      const Eye freed = fellow(span.eye);
      for (const Movement& m : evidence.movements) {
        if (m.eye != freed || m.under_cover || m.event_ms > span.from_ms ||
            m.event_ms < span.from_ms - kTransferGapMs) {
          continue;
        }
        horizontal.back() += m.shown_horizontal_pd();
        vertical.back() += m.shown_vertical_pd();
      }
    }
    if (step.before.right != step.before.left) measure_with_cover(evidence, step);
    step.residual_horizontal_pd = find_middle(std::move(horizontal));
    step.residual_vertical_pd = find_middle(std::move(vertical));
  }
}

}  // namespace redress::findings
