// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What somebody who watches the eyes could see: when each eye was covered, which eye moved when a
// cover came, went or crossed over, where to, how far, how soon and how fast. Read off the rows of
// an examination (one each millisecond): gaze, lids and covers; `fused` only for the time at which
// single vision came back.
//
// Each change of the covers opens a watch, which the next change, another reason to move or
// kLongestWatchMs ends; a change of the covers
// within kSameEventMs belongs to the same event (a transfer bares one eye before it covers the
// other). Memory: the rows of one watch, and the results. Signs: sim/basics/eye.hpp.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "sim/room/act.hpp"
#include "sim/room/observation.hpp"

namespace redress::findings {

inline constexpr Tick kSameEventMs = 200;
inline constexpr Tick kLongestWatchMs = 6000;
/// Smaller changes are not seen, even by the trained (1 to 2 prism dioptres: Fogt, Baughman & Good
/// 2000, from memory): 1. Drift and microsaccades reach 0.4 degrees.
inline constexpr double kSmallestMovementDeg = 0.57;
/// However closely one looks: what is smaller is drift and microsaccades.
inline constexpr double kSmallestCloseDeg = 0.42;

/// How much of the patient was looked at: as act::Magnify says.
struct LookedAt {
  double across_mm = act::Magnify{}.across_mm;
  std::optional<Eye> alone;  ///< the fellow is out of the view

  [[nodiscard]] bool shows(Eye eye) const { return !alone || *alone == eye; }
  /// As it grows in the view the same movement is seen smaller, by as much.
  [[nodiscard]] double smallest_movement_deg() const;
};

/// What happened to the covers.
enum class Cause : std::uint8_t {
  cover,     ///< one eye was covered, the other stayed free
  transfer,  ///< the cover crossed from one eye to the other
  uncover,   ///< the covered eye was freed
  other,     ///< both covered at once, or one of two freed
};

struct Movement {
  Eye eye = Eye::right;  ///< that moved
  Cause cause = Cause::other;
  bool under_cover = false;  ///< nobody sees it unless the cover is translucent
  Tick event_ms = 0;         ///< when the covers first changed
  Tick start_ms = 0;
  Tick end_ms = 0;
  /// The movement itself, prism dioptres: + outward (away from the nose), + up.
  double outward_pd = 0.0;
  double upward_pd = 0.0;
  double peak_deg_per_s = 0.0;
  bool saccadic = false;   ///< at least half of it in saccades; else a slow movement
  std::int32_t steps = 0;  ///< saccades it was made of
  bool with_blink = false;
  bool out_of_view = false;  ///< the practitioner looked closer, at the other eye alone

  [[nodiscard]] Tick latency_ms() const { return start_ms - event_ms; }
  [[nodiscard]] Tick duration_ms() const { return end_ms - start_ms; }
  /// The deviation that a movement to take up fixation shows: an eye that comes out was in (eso +).
  [[nodiscard]] double shown_horizontal_pd() const { return outward_pd; }
  /// An eye that comes down was up: right eye higher +.
  [[nodiscard]] double shown_vertical_pd() const { return -side_of(eye) * upward_pd; }
};

struct CoveredInterval {
  Eye eye = Eye::right;
  Tick from_ms = 0;  ///< first row in which it is covered
  Tick to_ms = 0;    ///< first row in which it is free; or the last row
  bool ended = false;
  std::optional<Tick> regained_ms;  ///< single vision after to_ms, before the next cover
};

class MovementFinder {
 public:
  /// Rows in order, one each millisecond.
  void push(const Observation& row);
  /// From here on the eyes have another reason to move (a target, a prism, a lens, the head): what
  /// they do is no answer to the covers any more.
  void break_off() { close_watch(); }
  /// From the next change of the covers on.
  void look(const LookedAt& at) { looked_at_ = at; }
  /// After the last row: closes what is open.
  void finish();

  [[nodiscard]] const std::vector<Movement>& movements() const { return movements_; }
  [[nodiscard]] const std::vector<CoveredInterval>& covered() const { return covered_; }

 private:
  struct Sample {
    PerEye<double> horizontal_deg{};
    PerEye<double> vertical_deg{};
    bool lids_open = true;
  };
  // Longer than a blink, so that the place before it is known.
  static constexpr std::size_t kBeforeMs = 450;

  void follow_covers(const Observation& row);
  void open_watch(Tick now, PerEye<bool> before);
  void close_watch();
  void read_eye(Eye eye, Cause cause, bool under_cover);

  LookedAt looked_at_;
  LookedAt watched_at_;  // as the covers changed
  std::vector<Movement> movements_;
  std::vector<CoveredInterval> covered_;
  PerEye<std::optional<std::size_t>> open_interval_{};  // index into covered_
  std::optional<std::size_t> not_yet_single_;           // index into covered_
  std::array<Sample, kBeforeMs> past_{};                // ring of the rows before now
  std::size_t rows_ = 0;
  std::vector<Sample> watch_;   // past_ at the event, then the rows since
  std::size_t watch_past_ = 0;  // how many of them are from before the event
  bool watching_ = false;
  Tick event_ms_ = 0;
  PerEye<bool> before_{};  // covers before the event
  PerEye<bool> now_{};     // covers at present
  Tick last_ms_ = 0;
};

}  // namespace redress::findings
