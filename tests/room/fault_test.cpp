// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What does not converge ends the examination where it happens, and what was kept stays.
#include <cmath>
#include <limits>
#include <sstream>

#include "sim/record/file_sink.hpp"
#include "sim/record/record_writer.hpp"
#include "sim/record/verify.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

struct Broken {
  const char* name;
  const char* field;
  void (*break_it)(patient::Parameters&);
};

// No case can say these things: readers refuse them. They stand for an equation that runs away.
const Broken kBroken[] = {
    {"a release of fusion without a time", "version.horizontal",
     [](patient::Parameters& p) { p.fusion.release_s = std::nan(""); }},
    {"a deviation beyond measure", "vertical_vergence_deg",
     [](patient::Parameters& p) { p.tonus.vertical_deg = 1e7; }},
    {"a saccade of endless speed", "version.horizontal",
     [](patient::Parameters& p) {
       p.saccades.asymptotic_speed_deg_s = std::numeric_limits<double>::infinity();
     }},
};

std::vector<Act> acts() {
  return {show(0, 6.0), cover(1000, Eye::right, 0), show(1500, 0.3), uncover(3000, 0),
          show(4000, 6.0, 15.0)};
}

}  // namespace

TEST_CASE("what does not converge stops the examination, with tick, field and value") {
  for (const Broken& broken : kBroken) {
    INFO(broken.name);
    ExaminationSetup setup = setup_of(case_with_deviation(-8, -8));
    Examination sound(setup, {1, 0.0, true}, first_target(acts()));
    CHECK_FALSE(sound.fault());
    broken.break_it(setup.patient);

    std::ostringstream out;
    record::RecordWriter writer(
        out, record::make_header({{"format", "redress-case"}, {"version", 1}}, 1, 0.0));
    struct Sink : record::FileSink {
      std::vector<Observation> rows;
      void row(const Observation& o) { rows.push_back(o); }
      [[nodiscard]] bool wants_rows() const { return true; }
    } sink;
    sink.record = &writer;
    record::RunOptions options;
    options.chance = {1, 0.0, true};
    const record::RunEnd end = record::run(setup, acts(), options, sink);
    REQUIRE(end.fault);
    INFO(to_text(*end.fault));
    CHECK(end.fault->at_ms == end.at_ms);
    CHECK(end.fault->field == broken.field);
    CHECK_FALSE(std::abs(end.fault->value) < 1e6);
    CHECK(to_text(*end.fault).find(std::to_string(end.at_ms) + " ms: " + broken.field) !=
          std::string::npos);

    // Nothing that is not a number is told, and the record is whole up to where it was stopped.
    CHECK(static_cast<Tick>(sink.rows.size()) == end.at_ms);
    for (const Observation& o : sink.rows) {
      REQUIRE(std::isfinite(o.eye.right.horizontal_deg + o.eye.left.horizontal_deg));
    }
    const record::Verdict verdict = record::verify(out.str());
    CHECK_FALSE(verdict.whole());
    INFO(verdict.message);
    CHECK(verdict.message.find("cut") != std::string::npos);
  }
}

TEST_CASE("a stopped examination stays stopped, while time goes on") {
  ExaminationSetup setup = setup_of(case_with_deviation(-8, -8));
  setup.patient.fusion.release_s = std::nan("");
  Examination exam(setup, {1, 0.0, true});
  exam.apply(cover(0, Eye::right, 0).content);
  for (int t = 0; t < 2000; ++t) exam.step();
  REQUIRE(exam.fault());
  const EngineFault first = *exam.fault();
  CHECK(first.at_ms < 2000);
  CHECK(exam.now() == 2000);
  for (int t = 0; t < 100; ++t) exam.step();
  CHECK(exam.fault()->at_ms == first.at_ms);
  CHECK(exam.fault()->field == first.field);
}
