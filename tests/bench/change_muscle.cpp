// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// change_muscle CASE HOW: what the case editor computes until the deviations stand again after a
// muscle was changed, on one thread, for counting instructions. HOW: "draft", or "before" for what
// comes before the change and is no part of it.
#include <iostream>
#include <string>

#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/made_muscles.hpp"
#include "sim/truth/truth_parts.hpp"

int main(int argc, char** argv) {
  using namespace redress;
  if (argc < 3) return 2;
  const Result<std::string> text = read_file(argv[1]);
  Result<Case> read = text.ok() ? read_case_text(text.value()) : Result<Case>(text.problems());
  if (!read.ok()) return 2;
  Case the_case = std::move(read).value();
  const ExaminationSetup before = set_up_draft(the_case, {});
  if (std::string(argv[2]) == "before") return 0;
  the_case.muscles.right.superior_rectus.strength = 0.9;
  const ExaminationSetup setup = set_up_draft(the_case, before.patient.muscles);
  const auto in_turn = [](std::size_t count, const auto& work) {
    for (std::size_t i = 0; i < count; ++i) work(i);
  };
  const truth::Truth found = truth::calc_deviations(setup, {}, {}, in_turn);
  std::cout << found.largest_change_pd << '\n';
  return 0;
}
