// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/live_examination.hpp"

#include <cmath>

#include "sim/cases/setup.hpp"
#include "sim/record/act_json.hpp"
#include "sim/record/replay.hpp"
#include "sim/record/run.hpp"

namespace redress::screens::examine {

namespace {

/// A record in a stream, each line at once.
class StreamKeeper final : public RecordKeeper {
 public:
  StreamKeeper(std::unique_ptr<std::ostream> out, const record::RecordHeader& header)
      : out_(std::move(out)), writer_(*out_, header) {}
  void act(const Act& act) override { writer_.act(act); }
  void reply(const Reply& reply) override { writer_.reply(reply); }
  void state(Tick at_ms, std::uint64_t hash) override { writer_.state(at_ms, hash); }
  void end(Tick at_ms) override { writer_.end(at_ms); }
  [[nodiscard]] std::optional<Problem> problem() const override { return writer_.problem(); }

 private:
  std::unique_ptr<std::ostream> out_;
  record::RecordWriter writer_;
};

double between(double a, double b, double share) { return std::lerp(a, b, share); }

EyeObservation between(const EyeObservation& a, const EyeObservation& b, double share) {
  EyeObservation o = b;
  o.horizontal_deg = between(a.horizontal_deg, b.horizontal_deg, share);
  o.vertical_deg = between(a.vertical_deg, b.vertical_deg, share);
  o.torsion_deg = between(a.torsion_deg, b.torsion_deg, share);
  o.listing_deg = between(a.listing_deg, b.listing_deg, share);
  o.pupil_mm = between(a.pupil_mm, b.pupil_mm, share);
  o.lid_open_fraction = between(a.lid_open_fraction, b.lid_open_fraction, share);
  return o;
}

}  // namespace

Moment interpolate(const Moment& from, const Moment& to, double share) {
  Moment m = to;
  for (const Eye eye : kBothEyes) {
    m.seen.eye[eye] = between(from.seen.eye[eye], to.seen.eye[eye], share);
  }
  // An occluder that was not before the face comes from nowhere.
  if (from.room.occluder.before_face && to.room.occluder.before_face) {
    const optics::OccluderPose& a = from.room.occluder.pose;
    const optics::OccluderPose& b = to.room.occluder.pose;
    m.room.occluder.pose = {between(a.x_mm, b.x_mm, share), between(a.y_mm, b.y_mm, share),
                            between(a.z_mm, b.z_mm, share), between(a.roll_deg, b.roll_deg, share)};
  }
  const HeadState& a = from.room.head.now;
  const HeadState& b = to.room.head.now;
  m.room.head.now = {Degrees{between(a.roll.value, b.roll.value, share)},
                     Degrees{between(a.turn.value, b.turn.value, share)},
                     Degrees{between(a.chin.value, b.chin.value, share)}};
  return m;
}

LiveExamination::LiveExamination(const Case& the_case, nlohmann::json written, Draw draw,
                                 std::unique_ptr<std::ostream> out)
    : LiveExamination(the_case, std::move(written), draw, std::unique_ptr<RecordKeeper>(), {}) {
  // The lines of the first tick are written now: a stream is there before anything is seen.
  if (!out) return;
  keeper_ = std::make_unique<StreamKeeper>(std::move(out), header_);
  for (const Line& line : lines_) write_to(*keeper_, line);
  record_problem_ = keeper_->problem();
}

LiveExamination::LiveExamination(const Case& the_case, nlohmann::json written, Draw draw,
                                 std::unique_ptr<RecordKeeper> keeper, const record::Record& so_far)
    : exam_(setup_of(the_case), {draw.seed, draw.noise, true}, first_target(so_far.acts)),
      setup_(std::make_unique<ExaminationSetup>(exam_.setup())),
      gatherer_(std::make_unique<findings::Gatherer>(*setup_)),
      header_(record::make_header(std::move(written), draw.seed, draw.noise)),
      keeper_(std::move(keeper)) {
  go_on_after(so_far);
  keep_moment();
  keep_moment();
  // The first tick passes before anything can be done: a target shown at 0 would be what the
  // patient has been looking at all along.
  finish_tick();
  keep_moment();
}

void LiveExamination::go_on_after(const record::Record& so_far) {
  const Tick last = record::calc_last_tick(so_far);
  if (so_far.states.empty()) return;
  std::size_t act = 0;
  for (;;) {
    const Tick now = exam_.now();
    // Of the last tick the state may not have been kept; then it is still to come.
    if (now == last && now % record::kStateEveryMs == 0 && so_far.states.back().first < now) return;
    tick_begun_ = true;
    gatherer_->row(exam_.observe(), exam_.room());
    if (now % record::kStateEveryMs == 0) lines_.emplace_back(std::pair{now, exam_.hash()});
    for (; act < so_far.acts.size() && so_far.acts[act].at_ms <= now; ++act) {
      exam_.apply(so_far.acts[act].content);
      gatherer_->act(so_far.acts[act], exam_.room());
      acts_.push_back(so_far.acts[act]);
      lines_.emplace_back(acts_.size() - 1);
    }
    if (now >= last || exam_.fault()) return;
    exam_.step();
    tick_begun_ = false;
    for (const Reply& reply : exam_.take_replies()) {
      replies_.push_back(reply);
      lines_.emplace_back(reply);
    }
  }
}

void LiveExamination::begin_tick() {
  if (tick_begun_ || ended_) return;
  tick_begun_ = true;
  gatherer_->row(exam_.observe(), exam_.room());
  if (exam_.now() % record::kStateEveryMs == 0) write(std::pair{exam_.now(), exam_.hash()});
}

template <class Writer>
void LiveExamination::write_to(Writer& writer, const Line& line) const {
  if (const auto* act = std::get_if<std::size_t>(&line)) {
    writer.act(acts_[*act]);
  } else if (const auto* reply = std::get_if<Reply>(&line)) {
    writer.reply(*reply);
  } else {
    const auto& state = std::get<std::pair<Tick, std::uint64_t>>(line);
    writer.state(state.first, state.second);
  }
}

void LiveExamination::write(const Line& line) {
  lines_.push_back(line);
  if (!keeper_ || record_problem_) return;
  write_to(*keeper_, line);
  record_problem_ = keeper_->problem();
  if (!record_problem_) recorded_until_ = exam_.now();
}

std::optional<Problem> LiveExamination::perform(const ActContent& content) {
  const Act act{exam_.now(), content};
  if (ended_) return Problem{"", "The examination has ended."};
  if (const Problems problems = record::check_act(act); !problems.empty()) {
    return problems.front();
  }
  if (acts_.size() >= record::kMostActs) return Problem{"", "No more acts fit in a record."};
  begin_tick();
  exam_.apply(content);
  gatherer_->act(act, exam_.room());
  acts_.push_back(act);
  write(acts_.size() - 1);
  return std::nullopt;
}

void LiveExamination::finish_tick() {
  if (ended_ || exam_.now() >= record::kLatestTick) return;
  begin_tick();
  exam_.step();
  tick_begun_ = false;
  if (exam_.fault()) {
    ended_ = true;
    return;
  }
  for (const Reply& reply : exam_.take_replies()) {
    replies_.push_back(reply);
    write(reply);
  }
}

void LiveExamination::end() {
  if (ended_) return;
  begin_tick();
  ended_ = true;
  if (!keeper_ || record_problem_) return;
  keeper_->end(exam_.now());
  record_problem_ = keeper_->problem();
}

void LiveExamination::keep_moment() {
  if (exam_.fault()) return;
  before_ = std::move(latest_);
  latest_ = {exam_.observe(), exam_.room()};
}

Moment LiveExamination::moment(double share) const { return interpolate(before_, latest_, share); }

std::vector<Reply> LiveExamination::take_replies() {
  std::vector<Reply> replies;
  replies.swap(replies_);
  return replies;
}

std::optional<Problem> LiveExamination::save_elsewhere(std::ostream& out) const {
  record::RecordWriter writer(out, header_);
  for (const Line& line : lines_) write_to(writer, line);
  if (ended_) writer.end(exam_.now());
  return writer.problem();
}

}  // namespace redress::screens::examine
