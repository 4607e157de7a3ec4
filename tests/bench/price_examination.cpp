// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// price_examination: half a minute of careless covers of a patient whose head is held askew for a
// weak muscle, every habit priced, for counting instructions. Prints how many habits there are.
#include <cstddef>
#include <cstdio>
#include <vector>

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/scoring/what_if.hpp"

using namespace redress;

// By this name what it costs is told apart from what comes before it.
[[gnu::noinline]] static std::size_t price_every_habit(const Case& the_case,
                                                       const ExaminationSetup& setup,
                                                       const std::vector<Act>& acts, Tick end,
                                                       const truth::Truth& truth) {
  return scoring::price_habits(the_case, setup, acts, {7, 1.0, true}, end, truth).prices.size();
}

int main() {
  const Result<Case> the_case =
      read_case_text(R"({"format":"redress-case","version":1,"title":"bench",)"
                     R"("deviation":{"distance_pd":0,"near_pd":0},)"
                     R"("patient":{"head_posture":{"turn_deg":15}},)"
                     R"("muscles":{"right":{"lateral_rectus":{"strength":0.6}}}})");
  const ExaminationSetup setup = setup_of(the_case.value());
  act::ShowTarget letters;
  letters.size_logmar = -0.2;  // smaller than either eye can make out
  std::vector<Act> acts{{0, letters}};
  constexpr Tick kEnd = 30'000;
  for (Tick t = 3000; t + 3000 < kEnd; t += 3000) {
    act::Cover cover;
    cover.eye = t % 6000 == 0 ? Eye::right : Eye::left;
    acts.push_back({t, cover});
    acts.push_back({t + 1200, act::Uncover{}});
  }
  const truth::Truth truth = truth::calc_truth(setup, {}, {false, false, false});
  const std::size_t habits = price_every_habit(the_case.value(), setup, acts, kEnd, truth);
  std::printf("%zu habits\n", habits);
  return habits > 0 ? 0 : 1;
}
