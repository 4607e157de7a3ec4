// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A session that goes on after an interruption: what was set up and said is as the acts so far
// left it. The hands are empty, as those of somebody who comes back to the patient.
#include <algorithm>
#include <utility>

#include "render/screens/examine/session.hpp"

namespace redress::screens::examine {

namespace {

std::optional<std::size_t> find_phrase(const ActContent& content) {
  const auto fits = [&](const Phrase& phrase) {
    switch (phrase.kind) {
      case PhraseKind::instruct: {
        const auto* said = std::get_if<act::Instruct>(&content);
        return said != nullptr && said->what == phrase.instruction;
      }
      case PhraseKind::ask:
      case PhraseKind::history: {
        const auto* asked = std::get_if<act::Ask>(&content);
        return asked != nullptr && asked->what == phrase.what;
      }
      case PhraseKind::request: {
        const auto* wanted = std::get_if<act::Request>(&content);
        return wanted != nullptr && wanted->what == phrase.what;
      }
    }
    return false;
  };
  const auto found = std::find_if(kPhrases.begin(), kPhrases.end(), fits);
  if (found == kPhrases.end()) return std::nullopt;
  return static_cast<std::size_t>(found - kPhrases.begin());
}

}  // namespace

Session::Session(const Case& the_case, nlohmann::json written, Draw draw,
                 std::unique_ptr<RecordKeeper> keeper, const record::Record& so_far,
                 SessionSettings settings)
    : case_(the_case),
      settings_(std::move(settings)),
      live_(the_case, std::move(written), draw, std::move(keeper), so_far) {
  if (!settings_.instruments.has(kind_)) kind_ = OccluderKind::translucent;
  if (!so_far.acts.empty()) take_up(so_far);
}

void Session::take_up(const record::Record& so_far) {
  for (const Act& act : so_far.acts) {
    if (const auto* cover = std::get_if<act::Cover>(&act.content)) {
      kind_ = cover->occluder;
      last_covered_ = cover->eye;
    } else if (const auto* target = std::get_if<act::ShowTarget>(&act.content)) {
      target_ = *target;
      target_.travel_ms = 0;
    } else if (const auto* lenses = std::get_if<act::TrialLenses>(&act.content)) {
      lenses_d_ = lenses->power_d;
    } else if (const auto* moved = std::get_if<act::MoveViewpoint>(&act.content)) {
      lean_right_ = -moved->x_mm;
      lean_up_ = moved->y_mm;
    } else if (const auto* closer = std::get_if<act::Magnify>(&act.content)) {
      closeness_ = find_closeness(*closer);
      if (closer->eye) view_eye_ = *closer->eye;
    }
    if (const auto phrase = find_phrase(act.content)) {
      messages_.ask(act.at_ms, std::string(kPhrases[*phrase].words));
      ++said_[*phrase];
      last_phrase_ = *phrase;
    }
  }
  tell_replies();
  if (live_.room().occluder.before_face) act(act::Uncover{Side::below, settings_.motion_ms});
  for (const Eye eye : kBothEyes) {
    const auto& slots = live_.room().prisms[eye].slots;
    if (std::any_of(slots.begin(), slots.end(), [](const auto& s) { return s.filled; })) {
      act(act::RemovePrism{eye, {}});
    }
  }
}

}  // namespace redress::screens::examine
