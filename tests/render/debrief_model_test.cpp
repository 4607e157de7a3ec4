// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The debrief computed from a record alone: what was seen is what the engine shows, the covers are
// where they were, what is written stands beside what is there, and lost marks have their times.
#include "render/screens/debrief/debrief_model.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <sstream>

#include "render/screens/debrief/advice.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/record/file_sink.hpp"
#include "sim/record/run.hpp"
#include "tests/support/places.hpp"

using namespace redress;
using namespace redress::screens::debrief;

namespace {

struct Done {
  Case the_case;
  ExaminationSetup setup;
  Chance chance;
  std::vector<Act> acts;
  Tick until = 0;
  std::string record;
};

std::string read_text(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

Done load(const std::string& scenario) {
  const Result<Case> loaded =
      read_case_text(read_text(support::source_dir() + "/scenarios/" + scenario));
  REQUIRE(loaded.ok());
  return {loaded.value(), setup_of(loaded.value()), {loaded.value().seed, 1.0, true}, {}, 0, {}};
}

void keep_record(Done& done) {
  std::ostringstream out;
  record::RecordWriter writer(
      out, record::make_header(to_json(done.the_case), done.chance.seed, done.chance.noise));
  record::FileSink sink;
  sink.record = &writer;
  record::RunOptions options;
  options.chance = done.chance;
  options.until_ms = done.until;
  record::run(done.setup, done.acts, options, sink);
  done.record = out.str();
}

const ComparedRow* find_row(const DebriefModel& model, const std::string& finding) {
  for (const ComparedRow& row : model.rows) {
    if (row.finding == finding) return &row;
  }
  return nullptr;
}

Done examine_as(const std::string& scenario, examiners::Fault fault) {
  Done done = load(scenario);
  examiners::Habits habits;
  habits.fault = fault;
  habits.near_m = done.the_case.patient.near_working_distance.value;
  habits.owns_spectacles = done.the_case.spectacles.owned();
  habits.seed = done.chance.seed;
  Examination exam(done.setup, done.chance);
  const examiners::Examined examined = examiners::examine(exam, habits);
  done.acts = examined.acts;
  done.until = examined.until;
  keep_record(done);
  return done;
}

}  // namespace

TEST_CASE("debrief: right words without a test say that, not only that they earn nothing",
          "[screens][debrief]") {
  Done done = load("exophoria.json");
  Finding impression;
  impression.test = FindingTest::impression;
  impression.diagnosis = "Exophoria";
  done.acts = {{2000, act::Note{impression}}};
  done.until = 4000;
  keep_record(done);
  const Result<DebriefModel> made = make_debrief(done.record);
  REQUIRE(made.ok());
  const ComparedRow* row = find_row(made.value(), "Impression");
  REQUIRE(row != nullptr);
  CHECK(row->judged != Judged::full);
  CHECK(row->written == "Exophoria");
  CHECK(row->there == "the same, untested");
}

TEST_CASE("debrief: what is played back is what the engine showed", "[screens][debrief]") {
  const Done done = examine_as("exophoria.json", examiners::Fault::none);
  const Result<DebriefModel> made = make_debrief(done.record);
  REQUIRE(made.ok());
  const DebriefModel& model = made.value();
  CHECK(model.playback.end_ms() == done.until);

  // At every 10,007th tick the eyes, covers and occluder are those of a fresh run.
  Examination exam(done.setup, done.chance, first_target(done.acts));
  std::size_t next = 0;
  for (;;) {
    if (exam.now() % 10007 == 0) {
      const Tick t = exam.now();
      const Observation seen = exam.observe();
      const auto moment = model.playback.moment_at(static_cast<double>(t));
      INFO("at " << t << " ms");
      for (const Eye eye : kBothEyes) {
        // A saccade's 500 degrees a second times half a frame of 4 ms.
        CHECK(moment.seen.eye[eye].horizontal_deg ==
              Approx(seen.eye[eye].horizontal_deg).margin(1.0));
      }
      CHECK(moment.room.target.place.distance_m == exam.room().target.place.distance_m);
      CHECK(moment.room.occluder.before_face == exam.room().occluder.before_face);
    }
    for (; next < done.acts.size() && done.acts[next].at_ms <= exam.now(); ++next) {
      exam.apply(done.acts[next].content);
    }
    if (exam.now() >= done.until) break;
    exam.step();
  }
}

TEST_CASE("debrief: a good examination has its findings beside the truth", "[screens][debrief]") {
  const Done done = examine_as("exophoria.json", examiners::Fault::none);
  const DebriefModel model = make_debrief(done.record).value();
  CHECK(model.total >= 98.0);  // rubric, sanity tests: perfect examiner
  const ComparedRow* six = find_row(model, "6 m, sc, prism");
  REQUIRE(six != nullptr);
  CHECK(six->there.find("XOP") != std::string::npos);
  for (const ComparedRow& row : model.rows) {
    INFO(row.finding << ": " << row.written << " | " << row.there);
    CHECK(row.judged == Judged::full);
  }
  // Covers and the movements of redress that they show: exophoria comes back inwards.
  REQUIRE(model.covers.size() >= 8);
  int inwards = 0;
  for (const MovementTag& tag : model.movements) {
    CHECK_FALSE(tag.movement.under_cover);
    if (tag.words.find(" in") != std::string::npos && !tag.unseen) ++inwards;
  }
  CHECK(inwards >= 8);
  // The parts of the examination follow one another without a gap, from beginning to end.
  REQUIRE_FALSE(model.phases.empty());
  CHECK(model.phases.front().from_ms == 0.0);
  CHECK(model.phases.front().words == "Story");
  CHECK(model.phases.back().to_ms == static_cast<double>(done.until));
  for (std::size_t i = 1; i < model.phases.size(); ++i) {
    CHECK(model.phases[i].from_ms == model.phases[i - 1].to_ms);
  }
}

TEST_CASE("debrief: an eye under its cover drifts in the trace", "[screens][debrief]") {
  const Done done = examine_as("exophoria.json", examiners::Fault::none);
  const DebriefModel model = make_debrief(done.record).value();
  int checked = 0;
  for (const auto& cover : model.covers) {
    if (cover.to_ms - cover.from_ms < 4000) continue;
    const auto& trace = model.playback.horizontal_pd(cover.eye);
    const float before = trace[static_cast<std::size_t>(cover.from_ms / kFrameMs)];
    const float after = trace[static_cast<std::size_t>(cover.to_ms / kFrameMs) - 1];
    if (std::isnan(before) || std::isnan(after)) continue;
    // Exo: the right eye goes to the patient's right (+), the left to the left.
    const double outward = side_of(cover.eye) * static_cast<double>(after - before);
    INFO("cover at " << cover.from_ms);
    CHECK(outward > 2.0);
    ++checked;
  }
  CHECK(checked >= 4);
}

TEST_CASE("debrief: a lost mark says why, when, and what to do", "[screens][debrief]") {
  const Done done = examine_as("exophoria.json", examiners::Fault::short_covers);
  const DebriefModel model = make_debrief(done.record).value();
  REQUIRE_FALSE(model.lost.empty());
  const auto short_covers =
      std::find_if(model.lost.begin(), model.lost.end(),
                   [](const LostMark& m) { return m.item == scoring::Item::b2; });
  REQUIRE(short_covers != model.lost.end());
  CHECK(short_covers->marks > 0.0);
  CHECK_FALSE(short_covers->at_ms.empty());
  REQUIRE_FALSE(model.next_time.empty());
  CHECK(model.next_time.size() <= 3);
  for (std::size_t i = 1; i < model.lost.size(); ++i) {
    CHECK(model.lost[i - 1].marks >= model.lost[i].marks);
  }
  // What was lost and what was earned make the whole.
  double sum = 0;
  for (const LostMark& m : model.lost) sum += m.marks;
  double most = 0;
  double earned = 0;
  for (const MarkLine& m : model.marks) {
    most += m.max;
    earned += m.marks;
  }
  CHECK(most == Approx(100.0).margin(0.1));
  CHECK(sum + earned == Approx(most).margin(0.5));
}

TEST_CASE("debrief: every distance that was not written is said", "[screens][debrief]") {
  const Done done = examine_as("exophoria.json", examiners::Fault::no_near_test);
  const DebriefModel model = make_debrief(done.record).value();
  const ComparedRow* near = find_row(model, "40 cm");
  REQUIRE(near != nullptr);
  CHECK(near->written == "not written");
  CHECK(near->judged == Judged::none);
  CHECK(near->there.find("XOP′") != std::string::npos);
}

TEST_CASE("debrief: a tropia keeps its eye and its constancy", "[screens][debrief]") {
  const Done done = examine_as("right_esotropia.json", examiners::Fault::none);
  const DebriefModel model = make_debrief(done.record).value();
  const bool right = std::any_of(model.rows.begin(), model.rows.end(), [](const ComparedRow& row) {
    return row.there.find("RSOT") != std::string::npos;
  });
  CHECK(right);
}

TEST_CASE("debrief: an altered or cut record is refused with a reason", "[screens][debrief]") {
  const Done done = examine_as("exophoria.json", examiners::Fault::none);
  std::string altered = done.record;
  altered[altered.size() / 2] = altered[altered.size() / 2] == '1' ? '2' : '1';
  const Result<DebriefModel> refused = make_debrief(altered);
  CHECK_FALSE(refused.ok());
  CHECK_FALSE(make_debrief(done.record.substr(0, done.record.size() / 2)).ok());
  CHECK_FALSE(make_debrief("").ok());
}

TEST_CASE("debrief: there is advice for every item of the rubric", "[screens][debrief]") {
  for (const scoring::RubricLine& line : scoring::kRubric) {
    INFO(line.name);
    CHECK_FALSE(advice_for(line.item).empty());
  }
}
