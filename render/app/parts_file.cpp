// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/parts_file.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

namespace redress::app {

namespace {

using nlohmann::json;
using screens::PartKind;
using screens::Place;
using screens::Rect;

const char* name_of(PartKind kind) {
  switch (kind) {
    case PartKind::button: return "button";
    case PartKind::choice: return "choice";
    case PartKind::field: return "field";
    case PartKind::stepper: return "stepper";
    case PartKind::place: return "place";
    case PartKind::drawing: return "drawing";
    case PartKind::tag: return "tag";
    case PartKind::other: break;
  }
  return "other";
}

const char* name_of(Place place) {
  switch (place) {
    case Place::room: return "room";
    case Place::drawer: return "drawer";
    case Place::card: return "card";
    case Place::study: break;
  }
  return "study";
}

json to_pixels(const Rect& r, float scale) {
  const auto pixels = [scale](float units) { return std::lround(units * scale); };
  if (r.empty()) return json::array({0, 0, 0, 0});
  return json::array({pixels(r.x), pixels(r.y), pixels(r.w), pixels(r.h)});
}

}  // namespace

std::string format_parts(const screens::Ui& ui, const screens::UiProbe& probe) {
  const float scale = ui.scale();
  json all{{"scale", scale},
           {"place", name_of(ui.place())},
           {"typing", ui.typing()},
           {"focused", ui.focused()},
           {"parts", json::array()},
           {"texts", json::array()},
           {"outlines", json::array()},
           {"regions", json::array()}};
  for (const screens::ProbedPart& each : probe.parts()) {
    all["parts"].push_back({{"label", each.label},
                            {"id", each.id},
                            {"kind", name_of(each.kind)},
                            {"rect", to_pixels(each.rect, scale)},
                            {"available", each.available}});
  }
  for (const screens::ProbedText& each : probe.texts()) {
    all["texts"].push_back({{"text", each.text},
                            {"region", each.region},
                            {"fits", each.fits},
                            {"rect", to_pixels(each.visible, scale)}});
  }
  for (const screens::ProbedOutline& each : probe.outlines()) {
    all["outlines"].push_back({{"region", each.region},
                               {"rect", to_pixels(each.rect, scale)},
                               {"visible", to_pixels(each.visible, scale)}});
  }
  for (const screens::ProbedRegion& each : probe.regions()) {
    all["regions"].push_back({{"name", each.name}, {"rect", to_pixels(each.rect, scale)}});
  }
  const std::string whole = all.dump(-1, ' ', false, json::error_handler_t::replace);
  return whole.substr(1, whole.size() - 2);
}

}  // namespace redress::app
