// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/live_examination.hpp"

#include <cmath>

#include "sim/cases/setup.hpp"
#include "sim/record/act_json.hpp"
#include "sim/record/run.hpp"

namespace redress::screens::examine {

namespace {

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
    : exam_(setup_of(the_case), {draw.seed, draw.noise, true}),
      setup_(std::make_unique<ExaminationSetup>(exam_.setup())),
      gatherer_(std::make_unique<findings::Gatherer>(*setup_)),
      header_(record::make_header(std::move(written), draw.seed, draw.noise)),
      out_(std::move(out)) {
  if (out_) {
    writer_.emplace(*out_, header_);
    record_problem_ = writer_->problem();
  }
  keep_moment();
  keep_moment();
  // The first tick passes before anything can be done: a target shown at 0 would be what the
  // patient has been looking at all along.
  finish_tick();
  keep_moment();
}

void LiveExamination::begin_tick() {
  if (tick_begun_ || ended_) return;
  tick_begun_ = true;
  gatherer_->row(exam_.observe(), exam_.room());
  if (exam_.now() % record::kStateEveryMs == 0) write(std::pair{exam_.now(), exam_.hash()});
}

void LiveExamination::write_to(record::RecordWriter& writer, const Line& line) const {
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
  if (!writer_ || record_problem_) return;
  write_to(*writer_, line);
  record_problem_ = writer_->problem();
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
  if (!writer_ || record_problem_) return;
  writer_->end(exam_.now());
  record_problem_ = writer_->problem();
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
