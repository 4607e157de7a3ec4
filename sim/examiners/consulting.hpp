// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The examiner's side of an examination: it acts, it waits, it looks at the patient's face and
// hears answers. What the face does not show is not here: nothing of the patient's state, and not
// the eye behind an opaque occluder. Degrees and milliseconds; signs in sim/basics/eye.hpp.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/room/examination.hpp"

namespace redress::examiners {

/// One eye as it looks from where the examiner sits.
struct SeenEye {
  bool visible = true;          ///< false: the examiner's own occluder hides it; the rest is then 0
  double horizontal_deg = 0.0;  ///< as the eye is turned, + to the patient's right
  double vertical_deg = 0.0;
  double lid_open_fraction = 0.0;
  double pupil_mm = 0.0;
};

/// The face at one moment.
struct Glance {
  Tick at_ms = 0;
  PerEye<SeenEye> eye;
};

/// How often the examiner takes in the face: far more often than anybody can tell apart.
inline constexpr Tick kGlanceEveryMs = 5;

class Consulting {
 public:
  /// `exam` must be at time 0 and outlive this.
  explicit Consulting(Examination& exam);

  /// Acts now; the act is kept with its time.
  void act(const ActContent& content);
  /// Lets time pass, and watches.
  void wait(Tick ms);
  [[nodiscard]] Tick now() const;

  /// The face since the beginning, one glance each kGlanceEveryMs.
  [[nodiscard]] std::span<const Glance> glances() const { return glances_; }
  [[nodiscard]] const std::vector<Act>& acts() const { return acts_; }
  [[nodiscard]] const std::vector<Reply>& replies() const { return replies_; }
  /// The last answer to this question or request; empty if none was heard.
  [[nodiscard]] std::string find_answer(std::string_view to) const;
  /// Whether the patient has spectacles on: anybody sees that.
  [[nodiscard]] bool sees_spectacles() const;
  /// The trial lens before the right eye, as the examiner put it there; 0: none.
  [[nodiscard]] double trial_lens() const;
  /// Whether the head is turned, tilted or raised by 3 degrees or more.
  [[nodiscard]] bool sees_head_askew() const;

 private:
  void look();

  Examination& exam_;
  std::vector<Glance> glances_;
  std::vector<Act> acts_;
  std::vector<Reply> replies_;
};

}  // namespace redress::examiners
