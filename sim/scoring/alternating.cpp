// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Part C of the rubric: alternating cover and prism. Coverage of all distances is charged in C5
// alone; the other items look at what was attempted.
#include <algorithm>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/findings/phrases.hpp"
#include "sim/scoring/items.hpp"
#include "sim/scoring/positions.hpp"
#include "sim/scoring/words.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::PrismStep;

namespace {

constexpr double kNeutralPd = 1.0;  // what is left to move
constexpr double kReversedPd = 0.4;
constexpr int kSidesWanted = 3;         // of four (judgement)
constexpr double kSmallEffectPd = 2.0;  // rubric C4; A11: an eye matters from here on
// Steps of the usual bars: 2 up to 20, then 5 (from memory).
double bar_step(double label_pd) { return label_pd <= 20.5 ? 2.5 : 5.5; }

struct Axis {
  bool vertical = false;
  double sign = 1.0;  // of the label that neutralises

  [[nodiscard]] double label(const PrismStep& s) const {
    return sign * (vertical ? s.vertical_pd : s.horizontal_pd);
  }
  [[nodiscard]] double left(const PrismStep& s) const {
    return sign * (vertical ? s.residual_vertical_pd : s.residual_horizontal_pd);
  }
};

Axis axis_of(const Place& place) {
  const truth::Condition& c = place.there.right;
  Axis axis;
  axis.vertical = magnitude(c.horizontal_pd) < kSeenHorizontalPd ||
                  magnitude(c.vertical_pd) > magnitude(c.horizontal_pd);
  axis.sign = (axis.vertical ? c.vertical_pd : c.horizontal_pd) < 0.0 ? -1.0 : 1.0;
  return axis;
}

// An eye that never takes up fixation, blind or out of reach, moves behind no prism; a deviation
// that comes and goes has changed before one is found.
bool can_be_neutralised(const Place& p) {
  return p.is_seen() && !p.let_go && !p.there.right.cannot_fixate && !p.there.left.cannot_fixate;
}

std::string say_prism(const Axis& axis, double label) {
  const char* base = axis.vertical ? "for the height" : axis.sign > 0.0 ? "base out" : "base in";
  return fmt::format("{:.0f}Δ {}", label, base);
}

// `left` along the axis: + still the same way, - reversed.
std::string say_left(double left) {
  if (one_place(left) == 0.0) return "no movement";
  return in_pd(left) + (left > 0.0 ? " the same way" : " the other way");
}

bool needs_prism(const Examined& x) {
  return std::any_of(x.places.begin(), x.places.end(), can_be_neutralised);
}

Mark nothing_to_measure() { return removed("There is no deviation here that needs a prism."); }

double label_for(const Place& place, const Axis& axis, Eye fixing) {
  const truth::Condition& c = place.there[fixing];
  return axis.vertical ? c.neutralising_vertical_pd.value_or(c.vertical_pd)
                       : c.neutralising_horizontal_pd.value_or(c.horizontal_pd);
}

bool is_before_wrong_eye(const Examined& x, const Place& place, const PrismStep& step) {
  if (step.before.right == step.before.left) return false;  // split between both
  const auto eye = find_prism_eye(x, place, step.with_cover && step.transfers < 2);
  return eye && !step.before[*eye];
}

double share_of_eye(const Examined& x, const Place& place, Mark& mark) {
  int wrong = 0;
  bool corrected = false;
  for (const PrismStep* step : place.steps) {
    if (step->transfers < 2 && !step->with_cover) continue;
    if (!is_before_wrong_eye(x, place, *step)) {
      corrected = wrong > 0;
      break;
    }
    if (wrong++ > 0) continue;
    mark.evidence.push_back(
        {step->from_ms, fmt::format("{}: before the {} eye, where the deviation reads otherwise",
                                    place.name, step->before.right ? "right" : "left")});
  }
  if (wrong == 0) return 1.0;
  mark.why += fmt::format("{}: before the eye that should have fixed. ", place.name);
  return corrected && wrong <= 2 ? 0.5 : 0.0;
}

double share_of_base(const Place& place, Mark& mark) {
  const Axis axis = axis_of(place);
  const auto steps = measuring_steps(place);
  std::size_t wrong = 0;
  while (wrong < steps.size() && axis.label(*steps[wrong]) <= 0.0) ++wrong;
  mark.evidence.push_back(
      {steps.front()->from_ms,
       fmt::format("{}: first prism, {}", place.name,
                   wrong == 0 ? "with the base that neutralises" : "with the wrong base")});
  if (wrong == 0) return 1.0;
  const bool corrected = wrong < steps.size() && wrong <= 2;
  mark.why += fmt::format("{}: the base was the wrong way at first{}. ", place.name,
                          corrected ? ", and was put right" : "");
  return corrected ? 0.5 : 0.0;
}

double share_of_bracket(const Place& place, Mark& mark) {
  const Axis axis = axis_of(place);
  const auto say = [&](const std::string& what) {
    mark.why += fmt::format("{}: {}. ", place.name, what);
  };
  std::vector<double> tried;
  double not_reversed = -1.0;  // the largest label behind which the movement was not reversed
  double reversed = -1.0;      // the smallest behind which it was
  bool neutral = false;
  for (const PrismStep* step : measuring_steps(place)) {
    const double label = axis.label(*step);
    const double left = axis.left(*step);
    if (label <= 0.0) continue;
    if (std::find(tried.begin(), tried.end(), label) == tried.end()) tried.push_back(label);
    if (magnitude(left) <= kNeutralPd) neutral = true;
    if (left < -kReversedPd) {
      reversed = reversed < 0.0 ? label : std::min(reversed, label);
    } else {
      not_reversed = std::max(not_reversed, label);
    }
    mark.evidence.push_back({step->from_ms, fmt::format("{}: {} leaves {}", place.name,
                                                        say_prism(axis, label), say_left(left))});
  }
  if (reversed > 0.0) {
    // The smallest prism of the bar may reverse a small deviation at once.
    const double below = std::max(not_reversed, 0.0);
    if (reversed - below <= bar_step(reversed)) return 1.0;
    if (tried.size() > 1) {
      say(fmt::format("from {} on to {}, more than a step of the bar",
                      below > 0.0 ? say_prism(axis, below) : "no prism",
                      say_prism(axis, reversed)));
      return 0.5;
    }
  }
  if (tried.size() == 1) {
    say("one prism alone, " + say_prism(axis, tried.front()));
    return 0.0;
  }
  say(tried.empty() ? "no prism with the base that neutralises"
      : neutral     ? "stopped where nothing moved; the next prism would have reversed it"
                    : "stopped before the movement was neutralised");
  return neutral ? 0.5 : 0.0;
}

// Mean over the places at which prisms were used.
template <class Share>
Mark mark_places(const Examined& x, const Share& share_of, const char* full) {
  if (!needs_prism(x)) return nothing_to_measure();
  Mark mark;
  double sum = 0.0;
  int count = 0;
  for (const Place& place : x.places) {
    if (!can_be_neutralised(place) || measuring_steps(place).empty()) continue;
    sum += share_of(place, mark);
    ++count;
  }
  if (count == 0) {
    mark.why = "No prism was used with the alternating cover.";
    return mark;
  }
  mark.share = sum / count;
  if (mark.share >= 1.0) mark.why = full;
  return mark;
}

}  // namespace

std::optional<Eye> find_prism_eye(const Examined& x, const Place& place, bool with_cover) {
  if (with_cover) {
    const auto deviating = place.there.right.deviating_eye;
    if (deviating == truth::DeviatingEye::right) return Eye::right;
    if (deviating == truth::DeviatingEye::left) return Eye::left;
    return std::nullopt;
  }
  if (x.truth.comitant) return std::nullopt;
  const Axis axis = axis_of(place);
  const double right_fixing = magnitude(label_for(place, axis, Eye::right));
  const double left_fixing = magnitude(label_for(place, axis, Eye::left));
  if (magnitude(right_fixing - left_fixing) <= kSmallEffectPd) return std::nullopt;
  return right_fixing < left_fixing ? Eye::left : Eye::right;
}

namespace {

std::string describe_lapses(const std::string& place, const Alternation& run) {
  findings::Phrases lapses(", ");
  if (run.regained) lapses.add("both eyes saw in between and came together");
  if (!run.regained && run.glimpses > 0) {
    lapses.add(fmt::format("both eyes saw in between, {} times", run.glimpses));
  }
  if (run.short_dwells > 0) {
    lapses.add(fmt::format("less than 1 s on an eye, {} times", run.short_dwells));
  }
  if (run.transfers < 6) lapses.add(fmt::format("{} transfers on end, not six", run.transfers));
  return fmt::format("{}: {}. ", place, lapses.text());
}

}  // namespace

Mark mark_dissociation(const Examined& x) {
  Mark mark;
  double sum = 0.0;
  int count = 0;
  for (const Place& place : x.places) {
    const Alternation run = find_alternation(place);
    if (run.transfers == 0) continue;
    sum += run.share();
    ++count;
    if (run.share() < 1.0) mark.why += describe_lapses(place.name, run);
    mark.evidence.push_back(
        {run.from_ms, fmt::format("{}: {} transfers on end, {} glimpses with both eyes, {} times "
                                  "less than 1 s on one eye",
                                  place.name, run.transfers, run.glimpses, run.short_dwells)});
  }
  if (count == 0) return {0.0, false, "The cover was not alternated.", {}};
  mark.share = sum / count;
  if (mark.share >= 1.0)
    mark.why = "Six transfers and more, 1 s on each eye, no glimpse with both.";
  return mark;
}

Mark mark_base(const Examined& x) {
  const auto share = [&x](const Place& place, Mark& mark) {
    return std::min(share_of_base(place, mark), share_of_eye(x, place, mark));
  };
  return mark_places(x, share, "The first prism had the right base, before an eye that does.");
}

Mark mark_bracket(const Examined& x) {
  return mark_places(x, share_of_bracket, "Gone on to reversal, in steps of the bar.");
}

Mark mark_handling(const Examined& x) {
  if (!needs_prism(x)) return nothing_to_measure();
  Mark mark;
  int used = 0;
  int lapses = 0;
  double worst_pd = 0.0;
  bool beyond = false;
  for (const Place& place : x.places) {
    const Axis axis = axis_of(place);
    const double there =
        magnitude(axis.vertical ? place.there.right.vertical_pd : place.there.right.horizontal_pd);
    for (const PrismStep* step : measuring_steps(place)) {
      if (used == 0) mark.evidence.push_back({step->from_ms, "first prism"});
      ++used;
      if (!step->same_sense_stack && !step->held_askew) continue;
      ++lapses;
      worst_pd = std::max(worst_pd, step->effect_pd);
      beyond = beyond || step->effect_pd > calc_tolerance(there, axis.vertical, false);
      mark.evidence.push_back(
          {step->from_ms, fmt::format("{}: {} off what the labels say",
                                      step->same_sense_stack ? "prisms one on another, bases alike"
                                                             : "strong prism held askew",
                                      in_pd(step->effect_pd))});
    }
  }
  if (used == 0) return {0.0, false, "No prism was used with the alternating cover.", {}};
  // One lapse, or more that change nothing; beyond the tolerance of the reading none.
  const bool small = worst_pd <= kSmallEffectPd;
  mark.share = lapses == 0 ? 1.0 : !beyond && (lapses == 1 || small) ? 0.5 : 0.0;
  mark.why = lapses == 0 ? "Held as calibrated, none stacked in the same sense."
                         : fmt::format(
                               "A prism that is stacked or askew does not do what its label says: "
                               "up to {} off here.",
                               in_pd(worst_pd));
  return mark;
}

namespace {

// Right, left, up and down: the most of them.
int count_sides(const Examined& x, Mark& mark) {
  constexpr double kSideDeg = 25.0;
  constexpr double kSides[][2] = {{kSideDeg, 0}, {-kSideDeg, 0}, {0, kSideDeg}, {0, -kSideDeg}};
  int sides = 0;
  for (const auto& [horizontal, vertical] : kSides) {
    const findings::CoverSpan* span = find_transfer(x.evidence, horizontal, vertical, 0.0);
    if (span == nullptr) continue;
    ++sides;
    mark.evidence.push_back(
        {span->from_ms, "alternated with the eyes " + say_gaze(horizontal, vertical)});
  }
  return sides;
}

}  // namespace

Mark mark_repeats(const Examined& x) {
  int wanted = 0;
  int done = 0;
  Mark mark;
  for (const Place& place : x.places) {
    if (!can_be_neutralised(place)) continue;
    ++wanted;
    const auto steps = measuring_steps(place);
    if (steps.empty()) {
      mark.why += fmt::format("{}: not measured by prism. ", place.name);
      continue;
    }
    ++done;
    mark.evidence.push_back({steps.front()->from_ms, "first prism, " + place.name});
  }
  // A head held askew hides what its straightening shows.
  if (x.setup.room.own_posture != HeadState{}) {
    ++wanted;
    const auto straight = std::find_if(x.places.begin(), x.places.end(), [](const Place& p) {
      return p.attempted() && !p.own_posture;
    });
    if (straight != x.places.end()) {
      ++done;
      mark.evidence.push_back({straight->covers.front()->from_ms, "with the head straight"});
    } else {
      mark.why += "Never with the head straight. ";
    }
  }
  if (x.the_case.expected.also_without && x.setup.room.spectacles_owned) {
    ++wanted;
    if (const findings::CoverSpan* span = find_cover_without(x)) {
      ++done;
      mark.evidence.push_back({span->from_ms, "without the glasses"});
    } else {
      mark.why += "Never without the glasses. ";
    }
  }
  if (!x.truth.comitant) {
    ++wanted;
    if (const int sides = count_sides(x, mark); sides >= kSidesWanted) {
      ++done;
    } else {
      mark.why += fmt::format("Covered in {} of four positions of gaze. ", sides);
    }
  }
  if (wanted < 2) return removed("Nothing needs to be measured twice.");
  mark.share = done == wanted ? 1.0 : 2 * done >= wanted ? 0.5 : 0.0;
  if (done == wanted) mark.why = "Repeated wherever it is called for.";
  return mark;
}

}  // namespace redress::scoring
