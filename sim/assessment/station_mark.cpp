// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/station_mark.hpp"

#include <algorithm>
#include <array>

namespace redress::assessment {

namespace {

using scoring::Item;
using scoring::ItemScore;

double weight_of(const Weights& weights, Section section) {
  switch (section) {
    case Section::findings: return weights.findings;
    case Section::technique: return weights.technique;
    case Section::reasoning: return weights.reasoning;
    case Section::conclusion: break;
  }
  return weights.conclusion;
}

double one_decimal(double x) {
  return static_cast<double>(static_cast<int>(x * 10.0 + 0.5)) / 10.0;
}

}  // namespace

Section section_of(Item item) {
  switch (item) {
    case Item::d1:
    case Item::d2:
    case Item::d3:
    case Item::d4:
    case Item::d5:
    case Item::f: return Section::findings;
    case Item::a1:
    case Item::e: return Section::reasoning;
    case Item::g1:
    case Item::g2:
    case Item::g3: return Section::conclusion;
    default: return Section::technique;
  }
}

scoring::ScoreSheet reweigh(scoring::ScoreSheet sheet, const std::optional<Weights>& weights) {
  if (!weights) return sheet;
  std::array<double, 4> wanted{};  // of the items that the case needs, by section
  for (const ItemScore& item : sheet.items) {
    wanted[static_cast<std::size_t>(section_of(item.item))] += item.max;
  }
  double sum_of_weights = 0.0;
  for (std::size_t s = 0; s < wanted.size(); ++s) {
    if (wanted[s] > 0.0) sum_of_weights += weight_of(*weights, static_cast<Section>(s));
  }
  double sum = 0.0;
  for (ItemScore& item : sheet.items) {
    if (item.max <= 0.0) continue;
    const Section section = section_of(item.item);
    const double share = item.marks / item.max;
    const double of_section = item.max / wanted[static_cast<std::size_t>(section)];
    item.max = sum_of_weights > 0.0
                   ? 100.0 * weight_of(*weights, section) / sum_of_weights * of_section
                   : 0.0;
    item.marks = item.max * share;
    sum += item.marks;
  }
  for (const scoring::Cap& cap : sheet.caps) sum = std::min(sum, cap.limit);
  sheet.total = one_decimal(sum);
  return sheet;
}

}  // namespace redress::assessment
