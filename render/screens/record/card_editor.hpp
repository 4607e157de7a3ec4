// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The record card being written: the line of shorthand and the rows are two views of one entry. An
// entry that settles (Enter, or leaving it) becomes a note; of several for the same thing the last
// counts. It reads the card and what the user set up, never the patient. Pure.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sim/findings/record_card.hpp"
#include "sim/findings/shorthand.hpp"
#include "sim/room/act.hpp"
#include "sim/room/finding.hpp"

namespace redress::screens::record {

/// A distance and a correction, one chip on the card.
struct Condition {
  double distance_m = 6.0;
  bool spectacles = true;
  bool operator==(const Condition&) const = default;
};

class CardEditor {
 public:
  /// Notes that were made before, as after a crash; none at first.
  explicit CardEditor(std::span<const findings::WrittenFinding> notes = {});

  // --- tradition, conditions ---
  [[nodiscard]] findings::Tradition tradition() const { return tradition_; }
  void use(findings::Tradition tradition);
  /// 6 m and near, with and without correction: the same four for everybody, then what was added.
  [[nodiscard]] std::span<const Condition> conditions() const { return conditions_; }
  [[nodiscard]] std::size_t current() const { return current_; }
  [[nodiscard]] const Condition& condition() const { return conditions_[current_]; }
  /// Leaves the entry and goes there; adds a chip if there is none.
  void choose(const Condition& condition);
  [[nodiscard]] bool is_written(const Condition& condition) const;
  /// What the user set up in the room: an untouched card follows it.
  void follow_room(double distance_m, bool spectacles);

  // --- the line ---
  [[nodiscard]] const std::string& line() const { return line_; }
  [[nodiscard]] const findings::ShorthandReading& reading() const { return reading_; }
  /// At each key stroke. The rows follow.
  void type(std::string line);

  // --- the rows ---
  /// The entry for this test at the current condition: being written, else as written, else empty.
  /// Eye and base part four-dioptre results and reserves.
  [[nodiscard]] Finding find(FindingTest test, std::optional<FindingEye> eye = {},
                             const std::string& base = {}) const;
  /// The same for a place of its own: a gaze, a control score at the other distance.
  [[nodiscard]] Finding find(const Finding& key) const;
  /// Nothing but the test, at the current condition.
  [[nodiscard]] Finding make_empty(FindingTest test) const;
  /// The near distance on the chips.
  [[nodiscard]] double near_m() const;
  /// A row was changed. The line follows.
  void edit(const Finding& finding);
  /// Direction chosen on the cover test's rows before its size: -1, 0, +1 (eso, right over left +).
  [[nodiscard]] int across() const;
  [[nodiscard]] int up() const;
  void set_direction(int across, int up);
  /// "3 covers": kept as a remark on the cover test.
  [[nodiscard]] std::optional<int> covers_seen() const;
  void set_covers_seen(int count);

  // --- impression and plan; not part of a condition ---
  [[nodiscard]] const Finding& impression() const { return impression_; }
  void set_impression(Finding finding);
  [[nodiscard]] const Finding& plan() const { return plan_; }
  void set_plan(Finding finding);

  // --- settling ---
  /// Enter, or leaving. False: part of the line is not read; it stays as it is.
  bool settle();
  /// Before the card is handed in: what is not read is kept as a remark.
  void settle_all();
  [[nodiscard]] bool is_settled() const { return unsettled_.empty() && line_.empty(); }
  /// Entries that settled since the last call, to become notes at `now`.
  std::vector<Finding> take_settled(Tick now);

  // --- the card ---
  [[nodiscard]] const findings::RecordCard& card() const { return card_; }
  [[nodiscard]] std::string read_back(findings::Tradition tradition) const;
  /// Contradictions that were not dismissed.
  [[nodiscard]] std::vector<findings::Contradiction> contradictions() const;
  void keep_both(const findings::Contradiction& contradiction);

 private:
  [[nodiscard]] findings::ShorthandContext context() const;
  void leave();
  void rewrite_line();
  void update_card();

  findings::Tradition tradition_ = findings::Tradition::uk;
  std::vector<Condition> conditions_;
  std::size_t current_ = 0;
  bool followed_ = true;  ///< the user has chosen no chip so far
  std::string line_;
  findings::ShorthandReading reading_;
  std::vector<Finding> unsettled_;
  int pending_across_ = 0;
  int pending_up_ = 0;
  Finding impression_;
  Finding plan_;
  bool impression_changed_ = false;
  bool plan_changed_ = false;
  std::vector<Finding> settled_;
  std::vector<findings::WrittenFinding> written_;
  findings::RecordCard card_;
  std::vector<findings::Contradiction> dismissed_;
};

/// Whether two entries are one row of the card: as on the record, but for the method.
bool is_same_entry(const Finding& a, const Finding& b);
/// Nothing but a place, a position of gaze and the eye that fixed.
bool is_empty(const Finding& finding);

}  // namespace redress::screens::record
