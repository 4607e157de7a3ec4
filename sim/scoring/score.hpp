// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// An examination marked by the rubric (sim/scoring/rubric.hpp): what was written against what is
// there at the distance, with the correction and the fixing eye actually used, and how it was
// found. A finding earns marks only if an act in the log could have shown it. Every mark names its
// evidence.
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <span>
#include <string>
#include <vector>

#include "sim/cases/case.hpp"
#include "sim/findings/evidence.hpp"
#include "sim/room/act.hpp"
#include "sim/room/examination.hpp"
#include "sim/scoring/rubric.hpp"
#include "sim/truth/truth.hpp"

namespace redress::scoring {

enum class Grade : std::uint8_t { full, half, none, removed };

struct MarkEvidence {
  Tick at_ms = 0;
  std::string what;
};

struct ItemScore {
  Item item = Item::a1;
  double max = 0.0;  ///< after scaling to 100; 0 if removed
  double marks = 0.0;
  Grade grade = Grade::none;  ///< half: anything between none and full
  std::string why;            ///< one plain sentence
  std::vector<MarkEvidence> evidence;
};

struct Cap {
  int rule = 0;  ///< of the rubric's list
  double limit = 100.0;
  std::string why;
  std::vector<MarkEvidence> evidence;
};

struct ScoreSheet {
  double total = 0.0;  ///< 0 ... 100, one decimal
  Column column = Column::formative;
  std::vector<ItemScore> items;
  std::vector<Cap> caps;
  bool unsafe = false;
  std::vector<std::string> notes;  ///< to the assessor
};

/// Simulates the acts again, once, to see what they showed. `setup` as made from the case; `truth`
/// needs no reserves and no near point.
ScoreSheet calc_score(const Case& the_case, const ExaminationSetup& setup,
                      std::span<const Act> acts, Chance chance, Tick until_ms,
                      const truth::Truth& truth, Column column = Column::formative,
                      const Rubric& rubric = make_default_rubric());

/// The same from evidence already gathered.
ScoreSheet calc_score(const Case& the_case, const ExaminationSetup& setup,
                      findings::Evidence evidence, const truth::Truth& truth,
                      Column column = Column::formative,
                      const Rubric& rubric = make_default_rubric());

struct Examined;
/// The same of what has been laid out already.
ScoreSheet calc_score(const Examined& examined, Column column = Column::formative,
                      const Rubric& rubric = make_default_rubric());

/// {"total", "column", "items": [{"item", "title", "max", "marks", "grade", "why", "evidence"}],
/// "caps", "unsafe", "lost": the three items that cost most, "notes", "caution"}
nlohmann::json to_json(const ScoreSheet& sheet);

}  // namespace redress::scoring
