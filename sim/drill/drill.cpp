// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/drill/drill.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"

namespace redress::drill {

namespace {

constexpr std::size_t kEvery = 3;  // the last of so many pairs is for the habit

/// Parts of one event's draws.
enum Part : std::uint32_t { kCover, kWay, kPlace, kOrder };

/// One size from each equal stretch of the logarithm of all sizes, in an order that chance decides.
std::vector<double> draw_habit_sizes(std::uint64_t seed, std::size_t count) {
  std::vector<double> sizes;
  const double ratio = elementary::logarithm(kMostSizePd / kLeastHabitPd);
  for (std::size_t i = 0; i < count; ++i) {
    const double share =
        (static_cast<double>(i) + random_uniform(seed, Stream::examiner, i, kPlace)) /
        static_cast<double>(count);
    sizes.push_back(kLeastHabitPd * elementary::exponential(share * ratio));
  }
  for (std::size_t i = sizes.size(); i > 1; --i) {  // Fisher and Yates
    const double draw = random_uniform(seed, Stream::examiner, i, kOrder);
    std::swap(sizes[i - 1], sizes[static_cast<std::size_t>(draw * static_cast<double>(i))]);
  }
  return sizes;
}

std::string say_size(double pd) {
  // Half a prism dioptre is as fine as anybody says it.
  const auto halves = static_cast<long long>(2 * pd + 0.5);
  return halves % 2 == 0 ? fmt::format("{}Δ", halves / 2) : fmt::format("{}.5Δ", halves / 2);
}

}  // namespace

Drill::Drill(std::uint64_t seed, std::size_t pairs)
    : seed_(seed), pairs_(pairs), habit_sizes_(draw_habit_sizes(seed, pairs / kEvery)) {
  choose();
}

void Drill::choose() {
  const std::size_t n = answered_.size();
  current_.second = random_uniform(seed_, Stream::examiner, n, kCover) >= 0.5;
  current_.way = static_cast<Way>(
      std::min(3, static_cast<int>(4 * random_uniform(seed_, Stream::examiner, n, kWay))));
  const bool habit = n % kEvery == kEvery - 1 && n / kEvery < habit_sizes_.size();
  current_.size_pd = habit ? habit_sizes_[n / kEvery] : posterior_.find_next_size();
}

void Drill::take(const Answer& answer) {
  if (done()) return;
  answered_.push_back({current_, answer});
  posterior_.take(current_.size_pd, answered_.back().found());
  if (!done()) choose();
}

std::string describe_answer(const Answered& a) {
  const std::string_view which = a.shown.second ? "second" : "first";
  const std::string_view other = a.shown.second ? "first" : "second";
  std::string words = fmt::format("The {}: {} {}.", which, say_size(a.shown.size_pd),
                                  kWays[static_cast<std::size_t>(a.shown.way)]);
  if (!a.found()) return words + fmt::format(" You said the {}.", other);
  if (!a.seen()) {
    return words + fmt::format(" You said {}.", kWays[static_cast<std::size_t>(a.answer.way)]);
  }
  return words + fmt::format(" You said {}.", say_size(a.answer.said_pd));
}

}  // namespace redress::drill
