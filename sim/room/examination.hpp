// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One examination = one patient + one room, advanced by acts and ticks. The same setup, seed, noise
// and acts give the same states, bit for bit, however the calls are spread over time.
//
//   Examination exam(setup_of(the_case), {seed, noise}, first_target(acts));
//   for each tick t: read observe() (row t), apply() the acts due at t in order, then step().
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "sim/basics/state_hash.hpp"
#include "sim/patient/parameters.hpp"
#include "sim/patient/retinas.hpp"
#include "sim/patient/state.hpp"
#include "sim/room/act.hpp"
#include "sim/room/answers.hpp"
#include "sim/room/fault.hpp"
#include "sim/room/observation.hpp"
#include "sim/room/room.hpp"

namespace redress {

/// Everything constant about an examination: the patient, what hangs in the room, what is on file.
struct ExaminationSetup {
  patient::Parameters patient;
  RoomParameters room;
  std::vector<std::pair<std::string, std::string>> answers;  ///< question -> what is said
  std::vector<std::pair<std::string, std::string>> on_file;  ///< request -> what is on file
};

using Chance = patient::Chance;

/// How things stand before time 0. The patient has been so for long enough to be in steady state.
struct Opening {
  act::ShowTarget target;          ///< what is looked at
  std::optional<Eye> covered;      ///< an eye that has not seen anything for as long
  std::optional<bool> spectacles;  ///< worn or not; none: as the case says
  PerEye<double> lenses_d{};       ///< trial lenses
  HeadState head;                  ///< upright, unless it is the patient's own
  bool own_posture = false;        ///< the head as the patient holds it
};

/// The target that the patient has been looking at before time 0: the first one shown at 0, else
/// letters at 6 m.
act::ShowTarget first_target(std::span<const Act> acts);

class Examination {
 public:
  Examination(const ExaminationSetup& setup, Chance chance, const act::ShowTarget& first = {});
  Examination(const ExaminationSetup& setup, Chance chance, const Opening& opening);

  /// The act takes effect at now(); its own time is not read.
  void apply(const ActContent& content);
  /// Advances by one millisecond, without heap allocation.
  void step();
  /// Why the examination has stopped: from then on time passes and nothing else does. Nothing
  /// while all is well.
  [[nodiscard]] const std::optional<EngineFault>& fault() const { return fault_; }

  [[nodiscard]] Tick now() const { return now_; }
  [[nodiscard]] Observation observe() const;
  /// Over every field of the state in order: patient, delay lines, counts of events, instruments.
  [[nodiscard]] std::uint64_t hash() const;
  /// Replies that fell due since the last call, in order.
  std::vector<Reply> take_replies();

  [[nodiscard]] const RoomState& room() const { return room_; }
  [[nodiscard]] const patient::State& patient_state() const { return patient_; }
  [[nodiscard]] const ExaminationSetup& setup() const { return setup_; }

 private:
  void settle();
  void look();
  Reply answer(const act::Ask& question);
  Reply look_up(const act::Request& request) const;
  void notice();
  void watch();
  /// Nothing is said after this.
  [[nodiscard]] Tick last_word() const { return fault_ ? fault_->at_ms - 1 : now_; }

  ExaminationSetup setup_;
  Chance chance_;
  patient::State patient_;
  RoomState room_;
  Tick now_ = 0;
  patient::Retinas retinas_;  // what falls on the retinas now: follows from the two states
  bool looked_ = false;       // retinas_ is of this moment
  DoubleVision double_vision_;
  std::optional<EngineFault> fault_;
  std::vector<Reply> pending_;             // asked for and not yet taken, in the order of asking
  std::optional<Tick> speaks_unasked_at_;  // until that is taken; its words are made then
};

}  // namespace redress
