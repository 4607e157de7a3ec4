// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the practitioner does, as values with a time. The list of acts, the case and the seed *are*
// the examination: everything else is computed from them. Signs: sim/basics/eye.hpp.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <variant>

#include "sim/basics/eye.hpp"
#include "sim/basics/units.hpp"
#include "sim/room/finding.hpp"

namespace redress {

/// Milliseconds since the examination began; one tick each.
using Tick = std::int64_t;

enum class OccluderKind : std::uint8_t { opaque, translucent };
enum class Side : std::uint8_t { above, below, temporal, nasal };
enum class PrismMaterial : std::uint8_t { plastic, glass };
enum class PrismHold : std::uint8_t { frontal, prentice, minimum };
enum class TargetKind : std::uint8_t { letters, letter, picture, spot };
enum class LightLevel : std::uint8_t { bright, dim };
/// `relax`: the head may go as it likes; what hands did to it ends.
enum class Instruction : std::uint8_t { look, keep_clear, follow, line_ends, hold_still, relax };

namespace act {

/// Moves the occluder to the line from the eye's centre of rotation to the target, 20 mm before the
/// cornea. It starts 70 mm away on the side `from`, or from where it is if it is before the face.
struct Cover {
  Eye eye = Eye::right;
  OccluderKind occluder = OccluderKind::opaque;
  Side from = Side::above;
  std::int32_t travel_ms = 250;
};

/// Takes the occluder 70 mm away. Temporal and nasal are read from the eye that it is nearer to.
struct Uncover {
  Side towards = Side::above;
  std::int32_t travel_ms = 250;
};

/// The centre of the occluder in the head frame: what a mouse or a controller sends.
struct MoveOccluder {
  double x_mm = 0;
  double y_mm = 0;
  double z_mm = 0;
  double roll_deg = 0;
  std::int32_t travel_ms = 0;
};

/// Prisms of one eye lie face on face; the stack is held and tilted as its innermost prism is.
struct HoldPrism {
  Eye eye = Eye::right;
  PrismDioptres power;  ///< the engraved label, above 0
  Degrees base;         ///< ISO 8429
  PrismMaterial material = PrismMaterial::plastic;
  PrismHold held = PrismHold::frontal;
  Degrees tilt;           ///< + from frontal towards the Prentice position
  std::int32_t slot = 1;  ///< 1 (next to the eye), 2, 3
};

struct RemovePrism {
  Eye eye = Eye::right;
  std::optional<std::int32_t> slot;  ///< none: all of that eye
};

struct ShowTarget {
  TargetKind kind = TargetKind::letters;
  double distance_m = 6.0;  ///< from the head origin
  double size_logmar = 0.2;
  double horizontal_deg = 0.0;
  double vertical_deg = 0.0;
  double width_mm = 0.0;  ///< length of the line of letters; 0: that of five letters
  std::int32_t travel_ms = 0;
};

struct Spectacles {
  bool worn = true;
};

struct TrialLenses {
  PerEye<double> power_d;
};

struct TiltHead {
  double roll_deg = 0.0;
  double turn_deg = 0.0;
  double chin_deg = 0.0;
  std::int32_t travel_ms = 0;
};

struct Penlight {
  bool on = false;
};

/// The lights of the room: on, or dimmed to about a tenth of that.
struct RoomLight {
  LightLevel level = LightLevel::bright;
};

struct Instruct {
  Instruction what = Instruction::look;
};

/// A question to the patient; the answer is a derived reply.
struct Ask {
  std::string what;
};

/// A finding on file, at its cost in time; the answer is a derived reply.
struct Request {
  std::string what;
};

struct MoveViewpoint {
  double x_mm = 0;
  double y_mm = 0;
  double z_mm = -500;
};

/// How close the practitioner looks: so many millimetres of the patient across the view, and at one
/// eye alone or at both. Nothing happens to the patient by it.
struct Magnify {
  double across_mm = 120;
  std::optional<Eye> eye;
};

struct Note {
  Finding finding;
};

}  // namespace act

using ActContent =
    std::variant<act::Cover, act::Uncover, act::MoveOccluder, act::HoldPrism, act::RemovePrism,
                 act::ShowTarget, act::Spectacles, act::TrialLenses, act::TiltHead, act::Penlight,
                 act::RoomLight, act::Instruct, act::Ask, act::Request, act::MoveViewpoint,
                 act::Magnify, act::Note>;

struct Act {
  Tick at_ms = 0;
  ActContent content;
};

}  // namespace redress
