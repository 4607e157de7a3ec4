// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/prism_hand.hpp"

#include <algorithm>
#include <cmath>

#include "sim/examiners/prism_bar.hpp"

namespace redress::screens::examine {

Degrees to_angle(Base base, Eye eye) {
  switch (base) {
    case Base::in: return Degrees{eye == Eye::right ? 0.0 : 180.0};
    case Base::out: return Degrees{eye == Eye::right ? 180.0 : 0.0};
    case Base::up: return Degrees{90.0};
    case Base::down: return Degrees{270.0};
  }
  return Degrees{0.0};
}

std::span<const double> find_steps(Base base) {
  if (base == Base::in || base == Base::out) return examiners::kHorizontalBar;
  return examiners::kVerticalBar;
}

namespace {

std::size_t nearest_step(Base base, double label) {
  const std::span<const double> steps = find_steps(base);
  std::size_t best = 0;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (std::abs(steps[i] - label) < std::abs(steps[best] - label)) best = i;
  }
  return best;
}

std::string say_end(const HeldPiece& piece, bool stronger, const KeyCaptions& keys) {
  const auto steps = find_steps(piece.base);
  const std::string thing = piece.form == PrismForm::bar ? "The bar" : "The set";
  const int least = static_cast<int>(steps.front());
  const int most = static_cast<int>(steps.back());
  if (!stronger) {
    return thing + " has no step below " + std::to_string(least) + "Δ. " + keys.of('F') +
           " puts it away.";
  }
  return thing + " has no step above " + std::to_string(most) +
         "Δ. Split it between both eyes with " + keys.of('G') + ".";
}

}  // namespace

ActContent PrismHand::hold(const HeldPiece& piece) {
  act::HoldPrism a;
  a.eye = piece.eye;
  a.power = PrismDioptres{find_steps(piece.base)[piece.at]};
  a.base = to_angle(piece.base, piece.eye);
  a.material = piece.form == PrismForm::loose_glass ? PrismMaterial::glass : PrismMaterial::plastic;
  a.held = piece.held;
  a.slot = piece.slot;
  return a;
}

void PrismHand::bring(HeldPiece& piece, std::vector<ActContent>& acts) {
  piece.at = piece.goal;
  piece.there = true;
  piece.slide_from.reset();
  piece.bring_at.reset();
  piece.passed = false;
  acts.push_back(hold(piece));
}

void PrismHand::put_away(HeldPiece& piece, std::vector<ActContent>& acts) {
  if (piece.there) acts.push_back(act::RemovePrism{piece.eye, piece.slot});
  piece.at = piece.goal;
  piece.there = false;
  piece.slide_from.reset();
  piece.bring_at.reset();
  piece.passed = false;
}

void PrismHand::swap(HeldPiece& piece, Tick now, std::vector<ActContent>& acts) {
  if (!piece.taken) {
    piece.at = piece.goal;
    return;
  }
  put_away(piece, acts);
  piece.bring_at = now + kSwapMs;
}

void PrismHand::start_slide(HeldPiece& piece, Tick now) {
  piece.passed = false;
  piece.slide_from.reset();
  if (piece.goal == piece.at) return;
  piece.slide_from = now;
  piece.direction = piece.goal > piece.at ? 1 : -1;
}

std::string PrismHand::step_by(int by, Tick now, std::vector<ActContent>& acts,
                               const KeyCaptions& keys) {
  HeldPiece& piece = active_piece();
  const std::size_t count = find_steps(piece.base).size();
  if (by < 0 && piece.goal == 0) return say_end(piece, false, keys);
  if (by > 0 && piece.goal + 1 >= count) return say_end(piece, true, keys);
  return jump_to(by < 0 ? piece.goal - 1 : piece.goal + 1, now, acts);
}

std::string PrismHand::jump_to(std::size_t index, Tick now, std::vector<ActContent>& acts) {
  HeldPiece& piece = active_piece();
  piece.goal = std::min(index, find_steps(piece.base).size() - 1);
  if (!piece.taken) {
    piece.at = piece.goal;
  } else if (piece.form != PrismForm::bar) {
    swap(piece, now, acts);
  } else if (piece.there && !piece.slide_from && piece.goal != piece.at) {
    start_slide(piece, now);
  }
  return {};
}

void PrismHand::turn_base(Base base, Tick now, std::vector<ActContent>& acts) {
  HeldPiece& piece = active_piece();
  if (piece.base == base) return;
  const double label = find_steps(piece.base)[piece.goal];
  piece.base = base;
  piece.goal = nearest_step(base, label);
  swap(piece, now, acts);
}

void PrismHand::change_form(int form, Tick now, std::vector<ActContent>& acts) {
  HeldPiece& piece = active_piece();
  const auto next = form < 0 ? (static_cast<std::size_t>(piece.form) + 1) % kPrismForms
                             : std::min(static_cast<std::size_t>(form), kPrismForms - 1);
  if (static_cast<std::size_t>(piece.form) == next) return;
  piece.form = static_cast<PrismForm>(next);
  swap(piece, now, acts);
}

void PrismHand::take_or_put_away(Tick now, std::vector<ActContent>& acts) {
  const bool any =
      std::any_of(pieces_.begin(), pieces_.begin() + static_cast<std::ptrdiff_t>(count_),
                  [](const HeldPiece& p) { return p.taken; });
  if (any) {
    for (std::size_t i = count_; i-- > 0;) {
      put_away(pieces_[i], acts);
      pieces_[i].taken = false;
    }
    count_ = 1;
    return;
  }
  HeldPiece& piece = active_piece();
  piece.taken = true;
  (void)now;
  bring(piece, acts);
}

void PrismHand::other_eye(Tick now, std::vector<ActContent>& acts) {
  // Held before both eyes, the two change places.
  for (std::size_t i = 0; i < count_; ++i) {
    HeldPiece& piece = pieces_[i];
    if (piece.taken) {
      put_away(piece, acts);
      piece.bring_at = now + kSwapMs;
    }
    piece.eye = fellow(piece.eye);
  }
}

void PrismHand::split_or_stack(Tick now, std::vector<ActContent>& acts) {
  HeldPiece& first = pieces_[0];
  if (!first.taken) take_or_put_away(now, acts);
  HeldPiece& second = pieces_[1];
  if (count_ == 1) {
    count_ = 2;
    second = HeldPiece{};
    second.eye = fellow(first.eye);
    second.base = first.base;
    // Neutralising a vertical deviation, the other eye's base is the other way.
    if (first.base == Base::up) second.base = Base::down;
    if (first.base == Base::down) second.base = Base::up;
    second.form = first.form;
    second.held = first.held;
  } else if (second.eye != first.eye) {
    put_away(second, acts);
    second = HeldPiece{};
    second.eye = first.eye;
    second.slot = 2;
    const bool horizontal = first.base == Base::in || first.base == Base::out;
    second.base = horizontal ? Base::up : Base::in;
    second.form = first.form;
    second.held = first.held;
  } else {
    put_away(second, acts);
    count_ = 1;
    return;
  }
  second.taken = true;
  second.bring_at = now + kSwapMs;
}

void PrismHand::hold_as(PrismHold held, Tick now, std::vector<ActContent>& acts) {
  (void)now;
  for (std::size_t i = 0; i < count_; ++i) {
    HeldPiece& piece = pieces_[i];
    if (piece.held == held) continue;
    piece.held = held;
    if (piece.there) acts.push_back(hold(piece));
  }
}

void PrismHand::step(Tick now, std::vector<ActContent>& acts) {
  for (std::size_t i = 0; i < count_; ++i) {
    HeldPiece& piece = pieces_[i];
    if (piece.bring_at && now >= *piece.bring_at) bring(piece, acts);
    if (!piece.slide_from) continue;
    const Tick since = now - *piece.slide_from;
    if (!piece.passed && since >= kSlideMs / 2) {
      piece.at = piece.direction > 0 ? piece.at + 1 : piece.at - 1;
      piece.passed = true;
      acts.push_back(hold(piece));
    }
    if (since >= kSlideMs) {
      // A goal changed on the way: the step under way is finished first.
      start_slide(piece, now);
    }
  }
}

double PrismHand::slide_mm(const HeldPiece& piece, Tick now, double step_mm) {
  if (!piece.slide_from) return 0.0;
  const double share = std::clamp(
      static_cast<double>(now - *piece.slide_from) / static_cast<double>(kSlideMs), 0.0, 1.0);
  return (piece.passed ? share - 1.0 : share) * step_mm * piece.direction;
}

bool PrismHand::is_moving() const {
  return std::any_of(pieces_.begin(), pieces_.begin() + static_cast<std::ptrdiff_t>(count_),
                     [](const HeldPiece& p) { return p.slide_from || p.bring_at; });
}

}  // namespace redress::screens::examine
