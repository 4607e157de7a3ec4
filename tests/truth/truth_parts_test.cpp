// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The truth in pieces, in the opposite order and on threads, is the truth.
#include <string>

#include <catch2/catch.hpp>

#include "sim/cases/made_muscles.hpp"
#include "sim/program/spread.hpp"
#include "sim/truth/truth_parts.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;

TEST_CASE("the truth does not depend on the order of its pieces", "[truth]") {
  const truth::Spread backwards = [](std::size_t count, const auto& work) {
    for (std::size_t i = count; i > 0; --i) work(i - 1);
  };
  const truth::Spread on_threads = [](std::size_t count, const auto& work) {
    program::spread(count, 3, work);
  };
  for (const char* name : {"microtropia", "only_beyond_the_window", "fell_from_a_bicycle"}) {
    INFO(name);
    const Case the_case = read_case_text(shipped_case(name)).value();
    const ExaminationSetup setup = setup_of(the_case);
    const truth::Distances distances{the_case.patient.screen_distance.value,
                                     the_case.patient.near_working_distance.value};
    const std::string whole = to_json(truth::calc_truth(setup, distances), "soon").dump();
    for (const truth::Spread& spread : {backwards, on_threads}) {
      truth::Truth found = truth::calc_deviations(setup, distances, {}, spread);
      CHECK(found.diagnosis.empty());
      CHECK_FALSE(found.gaze.empty());
      truth::add_procedures(setup, {}, spread, found);
      CHECK(to_json(found, "soon").dump() == whole);
    }
  }
}
