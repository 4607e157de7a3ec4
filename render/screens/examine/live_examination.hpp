// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// An examination that goes on while somebody watches: the engine, the record that is written line
// by line as it happens, and the last two moments, between which the picture is drawn. It knows
// ticks; who calls it turns a clock into them. A record that cannot be written does not stop the
// examination: what was written stays whole, everything is also kept in memory.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <ostream>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <nlohmann/json.hpp>

#include "sim/basics/problem.hpp"
#include "sim/cases/case.hpp"
#include "sim/findings/gatherer.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/record_format.hpp"
#include "sim/record/record_writer.hpp"
#include "sim/room/act.hpp"
#include "sim/room/examination.hpp"
#include "sim/room/observation.hpp"
#include "sim/room/room.hpp"

namespace redress::screens::examine {

/// What is drawn of one tick.
struct Moment {
  Observation seen;
  RoomState room;
};

/// Between two moments, 0 ... 1 of the way from the first: angles, lids, pupils, occluder, head.
/// What cannot lie between (a prism, a covered eye) is the second's.
Moment interpolate(const Moment& from, const Moment& to, double share);

/// Where the lines of a record go, besides memory, while they are made.
class RecordKeeper {
 public:
  virtual ~RecordKeeper() = default;
  virtual void act(const Act& act) = 0;
  virtual void reply(const Reply& reply) = 0;
  virtual void state(Tick at_ms, std::uint64_t hash) = 0;
  virtual void end(Tick at_ms) = 0;
  /// Nothing more can be kept, and why; what was kept before stands.
  [[nodiscard]] virtual std::optional<Problem> problem() const = 0;
};

/// The chance of one examination, as in the record.
struct Draw {
  std::uint64_t seed = 1;
  double noise = 1.0;
};

class LiveExamination {
 public:
  /// `written` is the case as JSON, for the record. `out` is binary and empty, or null: then the
  /// record is in memory only. The patient has been looking at letters at 6 m.
  LiveExamination(const Case& the_case, nlohmann::json written, Draw draw,
                  std::unique_ptr<std::ostream> out);
  /// Kept elsewhere than in a stream, and gone on with after `so_far`: what a record that was cut
  /// short has kept, of the same case and chance (empty: from the beginning). What is in it is not
  /// kept again.
  LiveExamination(const Case& the_case, nlohmann::json written, Draw draw,
                  std::unique_ptr<RecordKeeper> keeper, const record::Record& so_far);

  /// Takes effect at now(). An act that a record could not hold is refused and changes nothing.
  std::optional<Problem> perform(const ActContent& content);
  /// On to the next tick. Nothing after end() or on the last tick that an act may have.
  void finish_tick();
  /// Writes the last line; nothing happens afterwards.
  void end();

  [[nodiscard]] Tick now() const { return exam_.now(); }
  [[nodiscard]] bool has_ended() const { return ended_; }
  /// Why it has stopped by itself; its record then has no end, and stands up to there.
  [[nodiscard]] const std::optional<EngineFault>& fault() const { return exam_.fault(); }
  [[nodiscard]] const RoomState& room() const { return exam_.room(); }
  [[nodiscard]] const RoomParameters& room_parameters() const { return exam_.setup().room; }
  [[nodiscard]] std::uint64_t hash() const { return exam_.hash(); }

  /// Keeps the moment of now() as the one to draw from or to.
  void keep_moment();
  /// Between the last two kept moments.
  [[nodiscard]] Moment moment(double share) const;

  /// What was answered since the last call.
  std::vector<Reply> take_replies();
  /// What was done so far, as somebody who watches hands and covers sees it.
  [[nodiscard]] const findings::Evidence& evidence() const { return gatherer_->so_far(); }
  /// All acts so far, with their times.
  [[nodiscard]] const std::vector<Act>& acts() const { return acts_; }

  /// Why the record is not being written any more; nothing while it is.
  [[nodiscard]] const std::optional<Problem>& record_problem() const { return record_problem_; }
  /// Up to when the record is safe, if there is a problem.
  [[nodiscard]] Tick recorded_until() const { return recorded_until_; }
  /// The whole record so far, from memory, to another place.
  std::optional<Problem> save_elsewhere(std::ostream& out) const;

 private:
  /// A line of the record: an index of acts_, a reply, or a state's hash.
  using Line = std::variant<std::size_t, Reply, std::pair<Tick, std::uint64_t>>;
  void begin_tick();
  void write(const Line& line);
  void go_on_after(const record::Record& so_far);
  template <class Writer>
  void write_to(Writer& writer, const Line& line) const;

  Examination exam_;
  // Apart, so that one can be moved while the other refers to it.
  std::unique_ptr<ExaminationSetup> setup_;
  std::unique_ptr<findings::Gatherer> gatherer_;
  record::RecordHeader header_;
  std::unique_ptr<RecordKeeper> keeper_;
  std::optional<Problem> record_problem_;
  Tick recorded_until_ = 0;
  std::vector<Line> lines_;
  std::vector<Act> acts_;
  std::vector<Reply> replies_;
  Moment before_;
  Moment latest_;
  bool tick_begun_ = false;
  bool ended_ = false;
};

}  // namespace redress::screens::examine
