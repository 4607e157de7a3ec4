// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/cited.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/scoring/rubric.hpp"
#include "sim/scoring/sightings.hpp"
#include "sim/scoring/words.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::CoverSpan;

namespace {

constexpr Tick kLeftApartMs = 1500;  // open so long, and not single again

bool is_seen(const std::optional<findings::Movement>& m) {
  return m && (magnitude(m->shown_horizontal_pd()) >= kSeenHorizontalPd ||
               magnitude(m->shown_vertical_pd()) >= kSeenVerticalPd);
}

}  // namespace

// Latent or manifest is shown by covers of one eye by itself: whether an eye moved as the other was
// covered, and as it was freed.
void cite_class(const Examined& x, const Place& place, Mark& mark) {
  const Sighting seen = find_sighting(x, place);
  const auto say = [&](Tick at_ms, const std::string& what) {
    mark.evidence.push_back({at_ms, fmt::format("{}: {}", place.name, what)});
  };
  if (seen.fellow_moved && is_seen(seen.fellow)) {
    say(seen.fellow->start_ms, describe_movement(*seen.fellow));
  } else {
    for (const CoverSpan* span : place.covers) {
      if (!span->unilateral() || span->behind_prism) continue;
      say(span->from_ms, "neither eye was seen to move as the other was covered");
      break;
    }
  }
  if (is_seen(seen.freed)) say(seen.freed->start_ms, describe_movement(*seen.freed));
  for (const CoverSpan* span : place.covers) {
    const bool left_apart = span->unilateral() && !span->behind_prism && !span->regained_ms &&
                            span->open_after_ms >= kLeftApartMs;
    if (!left_apart || place.rank() != 2) continue;
    say(span->to_ms,
        fmt::format("not single again after the {} eye was freed", name_of(span->eye)));
    break;
  }
}

// Size and direction, across or in height: by the prism that left least, if one was used for it;
// else by the movement with which an eye took up fixation.
void cite_size(const Examined& x, const Place& place, bool by_prism, bool vertical, Mark& mark) {
  const Sighting seen = find_sighting(x, place);
  if (by_prism && seen.best_prism != nullptr) {
    const findings::PrismStep& step = *seen.best_prism;
    const std::string label =
        vertical ? say_height(step.vertical_pd) : say_across(step.horizontal_pd);
    const std::string left =
        vertical ? say_height(step.residual_vertical_pd) : say_across(step.residual_horizontal_pd);
    mark.evidence.push_back(
        {step.from_ms, fmt::format("{}: a prism for {} left {} to move", place.name, label, left)});
  }
  const auto& moved = vertical ? seen.in_height : seen.across;
  const double size =
      !moved ? 0.0
             : magnitude(vertical ? moved->shown_vertical_pd() : moved->shown_horizontal_pd());
  if (size >= (vertical ? kSeenVerticalPd : kSeenHorizontalPd)) {
    mark.evidence.push_back(
        {moved->start_ms, fmt::format("{}: {}", place.name, describe_movement(*moved, vertical))});
  } else if (!place.covers.empty()) {
    mark.evidence.push_back({place.covers.front()->from_ms,
                             fmt::format("{}: no movement {} was seen at the covers from here on",
                                         place.name, vertical ? "in height" : "across")});
  }
}

// Whether a deviation changes with the gaze is shown by covers there, or by the eyes followed
// there.
bool cite_sides(const Examined& x, Mark& mark) {
  constexpr double kAsideDeg = 15.0;
  bool shown = false;
  double last_horizontal = 0.0;
  double last_vertical = 0.0;
  for (const CoverSpan& span : x.evidence.covers) {
    const double horizontal = span.setting.gaze_horizontal_deg;
    const double vertical = span.setting.gaze_vertical_deg;
    const bool aside = std::max(magnitude(horizontal), magnitude(vertical)) >= kAsideDeg;
    if (!aside || (horizontal == last_horizontal && vertical == last_vertical)) continue;
    last_horizontal = horizontal;
    last_vertical = vertical;
    shown = true;
    mark.evidence.push_back(
        {span.from_ms, "covered with the eyes " + say_gaze(horizontal, vertical)});
  }
  return shown || x.evidence.looked_aside;
}

}  // namespace redress::scoring
