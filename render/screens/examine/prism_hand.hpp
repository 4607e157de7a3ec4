// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The other hand: a prism bar or loose prisms, before one eye or both. A bar is slid, 90 ms a step,
// and the edge between two steps passes the eye half way; loose prisms are swapped, 400 ms, and the
// eye is bare in between; turning a prism round or taking it to the other eye is a swap too. A
// plain value that knows ticks: it says which acts fall due.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "render/screens/examine/captions.hpp"
#include "sim/room/act.hpp"

namespace redress::screens::examine {

enum class Base : std::uint8_t { in, out, up, down };

/// ISO 8429 angle of a base before an eye (sim/basics/eye.hpp).
Degrees to_angle(Base base, Eye eye);

enum class PrismForm : std::uint8_t { bar, loose_plastic, loose_glass };
inline constexpr std::size_t kPrismForms = 3;

/// What one hand holds.
struct HeldPiece {
  Eye eye = Eye::right;
  std::int32_t slot = 1;  ///< 2: on another before the same eye
  Base base = Base::in;
  PrismForm form = PrismForm::bar;
  PrismHold held = PrismHold::frontal;
  std::size_t at = 0;              ///< index of its steps
  std::size_t goal = 0;            ///< a bar slides there step by step
  bool taken = false;              ///< before the eye, or on its way there
  bool there = false;              ///< the room knows of it
  bool passed = false;             ///< half a step is done: the next one is before the eye
  std::int32_t direction = 1;      ///< of the slide under way: +1 stronger
  std::optional<Tick> slide_from;  ///< since when it slides to the next step
  std::optional<Tick> bring_at;    ///< when a swap ends
  bool operator==(const HeldPiece&) const = default;
};

/// Labels of the steps: the horizontal bar for in and out, the vertical one for up and down; loose
/// prisms come in the same powers.
std::span<const double> find_steps(Base base);

class PrismHand {
 public:
  static constexpr Tick kSlideMs = 90;
  static constexpr Tick kSwapMs = 400;

  /// What was ordered, if it cannot be done: words for the message line, which name keys by what
  /// is printed on them; else empty. What must happen at once is added to `acts`.
  std::string step_by(int by, Tick now, std::vector<ActContent>& acts,
                      const KeyCaptions& keys = {});
  std::string jump_to(std::size_t index, Tick now, std::vector<ActContent>& acts);
  void turn_base(Base base, Tick now, std::vector<ActContent>& acts);
  /// -1: the next form.
  void change_form(int form, Tick now, std::vector<ActContent>& acts);
  void take_or_put_away(Tick now, std::vector<ActContent>& acts);
  void other_eye(Tick now, std::vector<ActContent>& acts);
  /// One, then split between both eyes, then one on another before the same eye, then one again.
  void split_or_stack(Tick now, std::vector<ActContent>& acts);
  void hold_as(PrismHold held, Tick now, std::vector<ActContent>& acts);

  /// Acts that fall due at this tick.
  void step(Tick now, std::vector<ActContent>& acts);

  [[nodiscard]] std::span<const HeldPiece> pieces() const { return {pieces_.data(), count_}; }
  /// The one that Q and E step: the last one taken up.
  [[nodiscard]] const HeldPiece& active() const { return pieces_[count_ - 1]; }
  /// How far the bar is past its step, mm for steps of `step_mm`.
  [[nodiscard]] static double slide_mm(const HeldPiece& piece, Tick now, double step_mm);
  [[nodiscard]] bool is_moving() const;

 private:
  HeldPiece& active_piece() { return pieces_[count_ - 1]; }
  static ActContent hold(const HeldPiece& piece);
  static void bring(HeldPiece& piece, std::vector<ActContent>& acts);
  static void put_away(HeldPiece& piece, std::vector<ActContent>& acts);
  static void start_slide(HeldPiece& piece, Tick now);
  static void swap(HeldPiece& piece, Tick now, std::vector<ActContent>& acts);

  std::array<HeldPiece, 2> pieces_{};
  std::size_t count_ = 1;
};

}  // namespace redress::screens::examine
