// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/truth/control_score.hpp"

#include <algorithm>
#include <array>
#include <optional>

#include "sim/truth/criteria.hpp"
#include "sim/truth/dissociated.hpp"
#include "sim/truth/solved.hpp"

namespace redress::truth {

namespace {

constexpr double kDistanceM = 6.0;
constexpr double kNearM = 0.33;
constexpr Tick kWatchMs = 30000;
constexpr Tick kTurnToTargetMs = 3000;
constexpr Tick kCoverMs = 10000;
constexpr Tick kLongestMs = 10000;   // waited for a recovery: longer than 5 s is all the same
constexpr double kManifestPd = 5.0;  // seen without a cover: judgement
constexpr std::size_t kPersons = 5;  // judgement

bool is_manifest(const Examination& exam) {
  return calc_misalignment(exam).horizontal_pd <= -kManifestPd;
}

double watch(Examination& exam) {
  Tick manifest = 0;
  for (Tick t = 0; t < kWatchMs; ++t) {
    exam.step();
    manifest += is_manifest(exam) ? 1 : 0;
  }
  return static_cast<double>(manifest) / static_cast<double>(kWatchMs);
}

bool opens_fused(const ExaminationSetup& setup, double distance_m) {
  Opening opening;
  opening.target = plain_target(distance_m);
  return Examination(setup, kCalm, opening).observe().fused;
}

double find_middle(std::array<double, kPersons> shares) {
  std::sort(shares.begin(), shares.end());  // equal shares are alike
  return shares[kPersons / 2];
}

std::optional<double> recover_after_cover(Examination& exam, Eye eye) {
  act::Cover cover;
  cover.eye = eye;
  exam.apply(cover);
  wait(exam, kCoverMs);
  exam.apply(act::Uncover{});
  std::optional<Tick> free_at;
  for (Tick t = 0; t < kLongestMs; ++t) {
    exam.step();
    if (!free_at && !exam.room().covered[eye]) free_at = exam.now();
    if (free_at && exam.observe().fused && !is_manifest(exam)) {
      return 0.001 * static_cast<double>(exam.now() - *free_at);
    }
  }
  return std::nullopt;
}

int score_at(const ExaminationSetup& setup, double distance_m, double manifest_share) {
  Opening opening;
  opening.target = plain_target(distance_m);
  Examination exam(setup, kCalm, opening);
  if (!exam.observe().fused) return calc_control_score(1.0, {});
  if (manifest_share > 0.0) return calc_control_score(manifest_share, {});
  std::array<std::optional<double>, 3> recoveries;
  recoveries[0] = recover_after_cover(exam, Eye::right);
  recoveries[1] = recover_after_cover(exam, Eye::left);
  const double longest = 0.001 * static_cast<double>(kLongestMs);
  const bool right = recoveries[0].value_or(longest) >= recoveries[1].value_or(longest);
  recoveries[2] = recover_after_cover(exam, right ? Eye::right : Eye::left);
  return calc_control_score(0.0, recoveries);
}

}  // namespace

ControlScore calc_control_scores(const ExaminationSetup& setup) {
  // Six standard deviations of the wander of the resting vergence and more (judgement).
  constexpr double kSureDeg = 1.0;
  const bool sure =
      is_held_for_sure(setup, kDistanceM, kSureDeg) && is_held_for_sure(setup, kNearM, kSureDeg);
  // Never fused is 5, whatever was watched.
  const bool never = !sure && !opens_fused(setup, kDistanceM) && !opens_fused(setup, kNearM);
  if (!sure && !never) return run_control_scores(setup);
  return {score_at(setup, kDistanceM, 0.0), score_at(setup, kNearM, 0.0)};
}

ControlScore run_control_scores(const ExaminationSetup& setup) {
  std::array<double, kPersons> far{};
  std::array<double, kPersons> near{};
  const auto calm_in = [](const std::array<double, kPersons>& shares, std::size_t persons) {
    return std::count(shares.begin(), shares.begin() + static_cast<std::ptrdiff_t>(persons), 0.0);
  };
  for (std::size_t i = 0; i < kPersons; ++i) {
    Opening opening;
    opening.target = plain_target(kDistanceM);
    Examination exam(setup, {i + 1, 1.0, true}, opening);
    far[i] = watch(exam);
    exam.apply(plain_target(kNearM));
    exam.apply(act::Instruct{Instruction::look});
    wait(exam, kTurnToTargetMs);
    near[i] = watch(exam);
    // With more than half of them never apart the middle one is.
    const auto half = static_cast<std::ptrdiff_t>(kPersons / 2);
    if (calm_in(far, i + 1) > half && calm_in(near, i + 1) > half) break;
  }
  return {score_at(setup, kDistanceM, find_middle(far)),
          score_at(setup, kNearM, find_middle(near))};
}

}  // namespace redress::truth
