// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/hand.hpp"

#include <algorithm>
#include <cmath>

#include "sim/optics/sight.hpp"

namespace redress::screens::examine {

using namespace hand_values;

namespace {

double plane_of(double distance_mm) { return -(optics::kCorneaToCentreMm + distance_mm); }

// A record should not carry the noise of the last bits: hundredths of a millimetre, tenths of a
// degree are finer than a hand.
double to_hundredths(double v) { return std::round(v * 100.0) / 100.0; }
double to_tenths(double v) { return std::round(v * 10.0) / 10.0; }

optics::OccluderPose rounded(const optics::OccluderPose& p) {
  return {to_hundredths(p.x_mm), to_hundredths(p.y_mm), to_hundredths(p.z_mm),
          to_tenths(p.roll_deg)};
}

Vector limited(Vector v, double most) {
  const double size = length(v);
  return size > most ? v * (most / size) : v;
}

Vector crossing(const PointerRay& ray, double z) {
  const double depth = ray.through.z - ray.from.z;
  if (depth == 0.0) return {ray.through.x, ray.through.y, z};
  const Vector point = ray.from + (ray.through - ray.from) * ((z - ray.from.z) / depth);
  return {point.x, point.y, z};
}

constexpr double kStillSpeed = 0.005;  // mm per ms
constexpr double kArrivedMm = 0.02;
constexpr double kOutsideMm = 250.0;  // a goal well beyond the face

}  // namespace

void Hand::point(Tick at, const PointerRay& ray) {
  ray_ = ray;
  const Vector place = crossing(ray, plane_of(distance_mm_));
  if (!recent_.empty() && recent_.back().at >= at) recent_.pop_back();
  recent_.push_back({at, place.x, place.y});
  // One sample from before the window is kept: it says where the pointer rested when it opened.
  while (recent_.size() > 2 && recent_[1].at <= at - kMeanOverMs) recent_.erase(recent_.begin());
}

optics::OccluderPose Hand::ready_pose() const {
  const double z = plane_of(kReadyDistance);
  const double x = std::clamp(crossing(ray_, z).x, -80.0, 80.0);
  return {x, kReadyTop - optics::kOccluderHeightMm / 2, z, 0.0};
}

Vector Hand::aim(double distance_mm) const { return crossing(ray_, plane_of(distance_mm)); }

void Hand::press(const OccluderState& room) {
  if (grip_ == Grip::ready || (grip_ == Grip::by_keys && !room.before_face)) {
    pose_ = ready_pose();
    velocity_ = {};
    roll_velocity_ = 0.0;
    roll_deg_ = 0.0;
    told_any_ = false;
  } else if (grip_ == Grip::by_keys) {
    pose_ = room.pose;
    roll_deg_ = pose_.roll_deg;
    velocity_ = {};
    roll_velocity_ = 0.0;
    told_any_ = false;
  }
  grip_ = Grip::held;
}

void Hand::release(Tick at) {
  if (grip_ != Grip::held) return;
  grip_ = Grip::withdrawing;
  double dx = 0.0;
  double dy = 0.0;
  if (!recent_.empty()) {
    // The pointer's way over the last 80 ms, whatever happened in them: a pause counts.
    Sample start = recent_.front();
    for (const Sample& sample : recent_) {
      if (sample.at <= at - kMeanOverMs) start = sample;
    }
    dx = (recent_.back().x - start.x) / static_cast<double>(kMeanOverMs);
    dy = (recent_.back().y - start.y) / static_cast<double>(kMeanOverMs);
  }
  const double speed = std::hypot(dx, dy);
  away_ = speed > kDirectedAbove ? Vector{dx / speed, dy / speed, 0} : Vector{0, -1, 0};
  away_speed_ = std::clamp(speed, kLeavesAtLeast, kFastest);
  if (std::abs(away_.y) >= std::abs(away_.x)) {
    left_towards_ = away_.y > 0 ? Side::above : Side::below;
  } else {
    const bool to_right = away_.x > 0;
    left_towards_ = to_right == (pose_.x_mm > 0) ? Side::temporal : Side::nasal;
  }
}

void Hand::leave_there() {
  if (grip_ == Grip::held) grip_ = Grip::left_there;
}

void Hand::set_distance(double mm) { distance_mm_ = std::clamp(mm, kNearest, kFarthest); }
void Hand::change_distance(double mm) { set_distance(distance_mm_ + mm); }
void Hand::change_roll(double degrees) {
  roll_deg_ = std::clamp(roll_deg_ + degrees, -180.0, 180.0);
}

void Hand::follow(const Vector& goal, double roll_goal, double fastest) {
  // Critically damped: acceleration = error / T² - 2 velocity / T, within what an arm can do.
  constexpr double kT = kTimeConstantMs;
  const Vector place{pose_.x_mm, pose_.y_mm, pose_.z_mm};
  const Vector error = goal - place;
  velocity_ = limited(
      velocity_ + limited(error * (1.0 / (kT * kT)) - velocity_ * (2.0 / kT), kAcceleration),
      fastest);
  const double roll_error = roll_goal - pose_.roll_deg;
  roll_velocity_ += roll_error / (kT * kT) - 2.0 * roll_velocity_ / kT;
  if (length(error) < kArrivedMm && length(velocity_) < kStillSpeed &&
      std::abs(roll_error) < 0.05) {
    pose_ = {goal.x, goal.y, goal.z, roll_goal};
    velocity_ = {};
    roll_velocity_ = 0.0;
    return;
  }
  const Vector next = place + velocity_;
  pose_ = {next.x, next.y, next.z, pose_.roll_deg + roll_velocity_};
}

bool Hand::is_clear() const {
  return std::abs(pose_.x_mm) > kClearBeside || pose_.y_mm > kClearAbove ||
         pose_.y_mm < kReadyTop - optics::kOccluderHeightMm / 2 + 1.0;
}

void Hand::withdraw() {
  const Vector place{pose_.x_mm, pose_.y_mm, pose_.z_mm};
  follow(place + away_ * kOutsideMm, 0.0, away_speed_);
}

std::optional<ActContent> Hand::tell(Tick now) {
  if (told_any_ && now - told_at_ < kActEveryMs) return std::nullopt;
  // Where the hand will be when the act's way is over, if the pointer stays: the plate is where the
  // hand is then, not where it was when it told.
  Hand ahead = *this;
  for (Tick i = 0; told_any_ && i < kActEveryMs; ++i) {
    grip_ == Grip::withdrawing ? ahead.withdraw()
                               : ahead.follow(aim(distance_mm_), roll_deg_, kFastest);
  }
  const optics::OccluderPose pose = rounded(ahead.pose_);
  if (told_any_ && pose == told_) return std::nullopt;
  act::MoveOccluder move;
  move.x_mm = pose.x_mm;
  move.y_mm = pose.y_mm;
  move.z_mm = pose.z_mm;
  move.roll_deg = pose.roll_deg;
  // From act to act the plate moves on without a jump: it passes all places between.
  move.travel_ms = told_any_ ? static_cast<std::int32_t>(kActEveryMs) : 0;
  told_ = pose;
  told_at_ = now;
  told_any_ = true;
  return ActContent{move};
}

std::optional<ActContent> Hand::step(Tick now, const OccluderState& room) {
  switch (grip_) {
    case Grip::ready: return std::nullopt;
    case Grip::by_keys:
      if (!room.before_face) grip_ = Grip::ready;
      return std::nullopt;
    case Grip::held: {
      const std::optional<ActContent> first = told_any_ ? std::nullopt : tell(now);
      follow(aim(distance_mm_), roll_deg_, kFastest);
      return first ? first : tell(now);
    }
    case Grip::left_there: {
      const std::optional<ActContent> first = told_any_ ? std::nullopt : tell(now);
      pose_ = told_;  // what was told is as far as it goes
      velocity_ = {};
      roll_velocity_ = 0.0;
      return first;
    }
    case Grip::withdrawing:
      if (is_clear()) {
        grip_ = Grip::ready;
        velocity_ = {};
        return ActContent{act::Uncover{left_towards_, 0}};
      }
      withdraw();
      return tell(now);
  }
  return std::nullopt;
}

bool Hand::is_moving() const {
  return grip_ == Grip::withdrawing ||
         ((grip_ == Grip::held || grip_ == Grip::left_there) && length(velocity_) > kStillSpeed);
}

}  // namespace redress::screens::examine
