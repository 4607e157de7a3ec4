// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One sitting of training the eye: pairs of covers, one of them with a movement; asked are which,
// which way and how large. Two pairs of three are chosen where they tell most about the smallest
// visible movement, the third is drawn over all sizes, for the habit of estimating. Everything
// follows from the seed and the answers. Sizes in prism dioptres.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "sim/drill/threshold.hpp"

namespace redress::drill {

inline constexpr std::size_t kPairs = 40;  ///< take four minutes
inline constexpr double kLeastHabitPd = 2.0;

/// Where the eye goes that is seen: towards the nose, away from it, up, down.
enum class Way : std::uint8_t { in, out, up, down };
inline constexpr std::string_view kWays[] = {"in", "out", "up", "down"};

struct Pair {
  double size_pd = 0;
  Way way = Way::in;
  bool second = false;  ///< the movement is in the second cover
};

struct Answer {
  bool second = false;
  Way way = Way::in;
  double said_pd = 0;
};

struct Answered {
  Pair shown;
  Answer answer;
  [[nodiscard]] bool found() const { return shown.second == answer.second; }
  /// The cover and the way were named: what was said about the size was about that movement.
  [[nodiscard]] bool seen() const { return found() && shown.way == answer.way; }
};

class Drill {
 public:
  explicit Drill(std::uint64_t seed, std::size_t pairs = kPairs);

  [[nodiscard]] bool done() const { return answered_.size() >= pairs_; }
  [[nodiscard]] std::size_t pairs() const { return pairs_; }
  [[nodiscard]] std::uint64_t seed() const { return seed_; }
  /// The pair to show; the last one once done.
  [[nodiscard]] const Pair& current() const { return current_; }
  /// On to the next pair. Nothing once done.
  void take(const Answer& answer);

  [[nodiscard]] const std::vector<Answered>& answered() const { return answered_; }
  [[nodiscard]] ThresholdEstimate estimate() const { return posterior_.estimate(); }

 private:
  void choose();

  std::uint64_t seed_;
  std::size_t pairs_;
  std::vector<double> habit_sizes_;  // in the order in which they come
  ThresholdPosterior posterior_;
  std::vector<Answered> answered_;
  Pair current_;
};

/// What is told after all three answers, in words: "The second, 2Δ out. You said the first."
std::string describe_answer(const Answered& answered);

}  // namespace redress::drill
