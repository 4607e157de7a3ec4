// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Ears for tests: what a frame drew and where. A test installs one in a Ui, finds a part by its
// label, moves the pointer there and asserts what the screen answered. Costs nothing when absent.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "render/screens/parts/geometry.hpp"

namespace redress::screens {

enum class PartKind : std::uint8_t { button, choice, field, stepper, place, drawing, tag, other };

/// Something that can be clicked or typed into.
struct ProbedPart {
  std::string label;  ///< as it reads on the screen, else its id
  std::string id;     ///< unique on the screen: "region/id"
  PartKind kind = PartKind::other;
  Rect rect;  ///< where it answers, units
  bool available = true;
};

/// A piece of text and the room it had.
struct ProbedText {
  std::string text;
  std::string region;
  Rect needed;
  Rect given;
  bool fits = true;  ///< false: it was shortened or hangs out of what it was given
  Rect visible;      ///< of what it needs, what is not clipped away
};

/// The line around something that can be used.
struct ProbedOutline {
  std::string region;
  Rect rect;
  Rect visible;  ///< what is not clipped away
};

struct ProbedRegion {
  std::string name;
  Rect rect;
};

class UiProbe {
 public:
  void begin_frame();
  void add(ProbedPart part) { parts_.push_back(std::move(part)); }
  void add(ProbedText text) { texts_.push_back(std::move(text)); }
  void add(ProbedRegion region) { regions_.push_back(std::move(region)); }
  void add(ProbedOutline outline) { outlines_.push_back(std::move(outline)); }

  /// The first part with this label or id, else null.
  [[nodiscard]] const ProbedPart* find(std::string_view label_or_id) const;
  /// Where to click it.
  [[nodiscard]] std::optional<Point> find_centre(std::string_view label_or_id) const;
  /// Whether some text of the frame contains this.
  [[nodiscard]] bool shows(std::string_view text) const;

  [[nodiscard]] const std::vector<ProbedPart>& parts() const { return parts_; }
  [[nodiscard]] const std::vector<ProbedText>& texts() const { return texts_; }
  [[nodiscard]] const std::vector<ProbedRegion>& regions() const { return regions_; }
  [[nodiscard]] const std::vector<ProbedOutline>& outlines() const { return outlines_; }

 private:
  std::vector<ProbedPart> parts_;
  std::vector<ProbedText> texts_;
  std::vector<ProbedRegion> regions_;
  std::vector<ProbedOutline> outlines_;
};

}  // namespace redress::screens
