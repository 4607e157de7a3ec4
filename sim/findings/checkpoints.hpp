// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Evidence of one examination after another that begin alike: states are kept on the way, every
// kCheckpointMs, and another list of acts goes on from the last one up to which it is the same.
// What comes out is what gather_evidence gives, to the last bit.
#pragma once

#include <span>
#include <vector>

#include "sim/findings/gatherer.hpp"

namespace redress::findings {

inline constexpr Tick kCheckpointMs = 10'000;

/// An examination and what was gathered of it, before the row and the acts of its tick.
struct Checkpoint {
  Examination exam;
  Gatherer gatherer;
};

/// Evidence, and the states on the way. `acts` as they were.
struct Checkpoints {
  std::vector<Act> acts;
  std::vector<Checkpoint> kept;
};

/// The last state that both of these examinations passed through, at `latest` at the latest; none:
/// they begin at nothing.
const Checkpoint* find_common(const Checkpoints& from, std::span<const Act> acts, Tick latest);

/// Keeps states in `keep`, if there is one. Goes on from the last of `from`, if there is one,
/// before the first act that differs. `setup` must outlive the checkpoints.
Evidence gather_evidence_from(const ExaminationSetup& setup, std::span<const Act> acts,
                              Chance chance, Tick until_ms, const Checkpoints* from,
                              Checkpoints* keep);

}  // namespace redress::findings
