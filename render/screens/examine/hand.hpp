// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The hand that holds the occluder: from where the pointer is, millisecond by millisecond, to where
// the plate is. It follows the pointer as a critically damped system with the limits of an arm, so
// that covering, sliding across and lifting away take the time and the path that a hand takes.
// A plain value that knows ticks and millimetres: what it does follows from the samples and their
// times alone, not from when frames are drawn. Head frame (sim/basics/eye.hpp), mm, ms, degrees.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "sim/basics/vector.hpp"
#include "sim/optics/occluder.hpp"
#include "sim/room/act.hpp"
#include "sim/room/room.hpp"

namespace redress::screens::examine {

/// Where the pointer points: the line from the examiner's eye through a point of the patient.
struct PointerRay {
  Vector from{0, 0, -500};
  Vector through;
};

/// screens.md, section 2; the ready place and the withdrawal's bounds are ours (judgement).
namespace hand_values {
inline constexpr double kTimeConstantMs = 45.0;
inline constexpr double kFastest = 1.5;         ///< mm per ms, which is m/s
inline constexpr double kAcceleration = 0.015;  ///< mm per ms², 15 m/s²
inline constexpr Tick kActEveryMs = 8;          ///< at most one act in as long
inline constexpr double kNearest = 10.0;        ///< of plate to cornea, mm
inline constexpr double kFarthest = 80.0;
inline constexpr double kAtFirst = 20.0;
inline constexpr double kNotch = 2.0;
inline constexpr double kReadyTop = -38.0;       ///< upper edge under the eye line
inline constexpr double kReadyDistance = 120.0;  ///< before the cornea
inline constexpr Tick kMeanOverMs = 80;          ///< for the direction of a withdrawal
inline constexpr double kDirectedAbove = 0.06;   ///< mm per ms: 60 mm/s
/// A plate whose centre is as far out as this hides nothing of the eyes.
inline constexpr double kClearBeside = 95.0;
inline constexpr double kClearAbove = 85.0;
/// A slow hand leaves faster than it worked: it has nothing to watch any more.
inline constexpr double kLeavesAtLeast = 0.4;  ///< mm per ms
}  // namespace hand_values

class Hand {
 public:
  enum class Grip : std::uint8_t {
    ready,        ///< below the face, nothing is hidden
    held,         ///< follows the pointer
    left_there,   ///< stays before the face without the pointer
    withdrawing,  ///< let go, on its way out
    by_keys,      ///< a whole motion ordered by a key: the room moves it
  };

  /// The pointer is there now. Before the first sample it is straight before the face.
  void point(Tick at, const PointerRay& ray);
  /// Takes the occluder from where it is to the pointer. `room` tells where that is when a key's
  /// motion put it there.
  void press(const OccluderState& room);
  /// Lets go: it leaves along the mean velocity of the last 80 ms, else downwards.
  void release(Tick at);
  /// It stays where it is and the pointer is free: on purpose, or because something was lost.
  /// Nothing unless held.
  void leave_there();
  /// A key's motion begins: the room moves the occluder from now on.
  void give_to_keys() { grip_ = Grip::by_keys; }
  /// A key's motion takes it away on that side.
  void leave_by_keys(Side towards) {
    grip_ = Grip::by_keys;
    left_towards_ = towards;
  }

  void change_distance(double mm);
  void set_distance(double mm);
  void change_roll(double degrees);

  /// One millisecond; `room` is the occluder as it is now. What the room must be told, if anything:
  /// act::MoveOccluder, or act::Uncover when the plate has left.
  std::optional<ActContent> step(Tick now, const OccluderState& room);

  [[nodiscard]] Grip grip() const { return grip_; }
  /// Of the plate from the cornea, as set by the wheel.
  [[nodiscard]] double distance_mm() const { return distance_mm_; }
  /// Faster than 5 mm/s, or on its way.
  [[nodiscard]] bool is_moving() const;
  /// The way it left by last: what the shelf says.
  [[nodiscard]] Side left_towards() const { return left_towards_; }
  /// Where it waits, below the face under the pointer.
  [[nodiscard]] optics::OccluderPose ready_pose() const;
  [[nodiscard]] const optics::OccluderPose& pose() const { return pose_; }

 private:
  struct Sample {
    Tick at = 0;
    double x = 0;
    double y = 0;
  };

  [[nodiscard]] Vector aim(double distance_mm) const;
  void follow(const Vector& goal, double roll_goal, double fastest);
  void withdraw();
  std::optional<ActContent> tell(Tick now);
  [[nodiscard]] bool is_clear() const;

  Grip grip_ = Grip::ready;
  PointerRay ray_;
  std::vector<Sample> recent_;  // pointer in the plane of the plate, the last 80 ms and one before
  double distance_mm_ = hand_values::kAtFirst;
  double roll_deg_ = 0.0;
  optics::OccluderPose pose_{};
  Vector velocity_;             // mm per ms
  double roll_velocity_ = 0.0;  // degrees per ms
  Vector away_;                 // direction of the withdrawal
  double away_speed_ = 0.0;
  Side left_towards_ = Side::below;
  optics::OccluderPose told_{};
  Tick told_at_ = -1000;
  bool told_any_ = false;  // since it was taken up
};

}  // namespace redress::screens::examine
