// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include <algorithm>
#include <utility>

#include "sim/scoring/score.hpp"

namespace redress::scoring {

namespace {

constexpr std::size_t kLostShown = 3;

const char* word_of(Grade grade) {
  switch (grade) {
    case Grade::full: return "full";
    case Grade::half: return "half";
    case Grade::none: return "none";
    case Grade::removed: return "removed";
  }
  return "none";
}

const RubricLine& line_of(Item item) { return kRubric[static_cast<std::size_t>(item)]; }

// Two decimals; marks are not negative.
double rounded(double x) {
  return static_cast<double>(static_cast<long long>(x * 100.0 + 0.5)) / 100.0;
}

nlohmann::json to_json(const std::vector<MarkEvidence>& evidence) {
  nlohmann::json list = nlohmann::json::array();
  for (const MarkEvidence& e : evidence) list.push_back({{"at_ms", e.at_ms}, {"what", e.what}});
  return list;
}

nlohmann::json find_lost(const ScoreSheet& sheet) {
  std::vector<const ItemScore*> items;
  for (const ItemScore& item : sheet.items) {
    if (item.grade != Grade::removed && item.max - item.marks > 0.005) items.push_back(&item);
  }
  std::stable_sort(items.begin(), items.end(), [](const ItemScore* a, const ItemScore* b) {
    return a->max - a->marks > b->max - b->marks;
  });
  if (items.size() > kLostShown) items.resize(kLostShown);
  nlohmann::json list = nlohmann::json::array();
  for (const ItemScore* item : items) {
    list.push_back({{"item", line_of(item->item).name},
                    {"title", line_of(item->item).title},
                    {"marks", rounded(item->max - item->marks)},
                    {"why", item->why}});
  }
  return list;
}

}  // namespace

nlohmann::json to_json(const ScoreSheet& sheet) {
  nlohmann::json items = nlohmann::json::array();
  for (const ItemScore& item : sheet.items) {
    items.push_back({{"item", line_of(item.item).name},
                     {"title", line_of(item.item).title},
                     {"max", rounded(item.max)},
                     {"marks", rounded(item.marks)},
                     {"grade", word_of(item.grade)},
                     {"why", item.why},
                     {"evidence", to_json(item.evidence)}});
  }
  nlohmann::json caps = nlohmann::json::array();
  for (const Cap& cap : sheet.caps) {
    caps.push_back({{"rule", cap.rule},
                    {"limit", cap.limit},
                    {"why", cap.why},
                    {"evidence", to_json(cap.evidence)}});
  }
  return {{"total", sheet.total},
          {"column", sheet.column == Column::formative ? "P" : "O"},
          {"items", std::move(items)},
          {"caps", std::move(caps)},
          {"unsafe", sheet.unsafe},
          {"lost", find_lost(sheet)},
          {"notes", sheet.notes},
          {"caution", "Redress trains; it does not diagnose real people."}};
}

}  // namespace redress::scoring
