// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The truth as published: keys and meanings are held fixed.
#include "sim/truth/truth.hpp"

namespace redress::truth {

using nlohmann::json;

namespace {

// To a thousandth: what simulation leaves behind the decimals is not information.
double rounded(double v) {
  const double scaled = v * 1000.0;
  const double whole =
      static_cast<double>(static_cast<long long>(scaled < 0 ? scaled - 0.5 : scaled + 0.5));
  return whole == 0.0 ? 0.0 : whole / 1000.0;
}

json optional_number(const std::optional<double>& v) {
  return v ? json(rounded(*v)) : json(nullptr);
}

// An eye that does not reach the target has no deviation to tell.
json unless(bool cannot, double v) { return cannot ? json(nullptr) : json(rounded(v)); }

const char* word(Manifest m) {
  return m == Manifest::none ? "none" : (m == Manifest::constant ? "constant" : "intermittent");
}

const char* word(DeviatingEye e) {
  switch (e) {
    case DeviatingEye::right: return "right";
    case DeviatingEye::left: return "left";
    case DeviatingEye::alternating: return "alternating";
    case DeviatingEye::none: break;
  }
  return "none";
}

const char* word(UsedLens lens) {
  switch (lens) {
    case UsedLens::distance: return "distance_part";
    case UsedLens::intermediate: return "intermediate_part";
    case UsedLens::near: return "near_part";
    case UsedLens::none: break;
  }
  return "none";
}

const char* word(WhichEyes e) {
  switch (e) {
    case WhichEyes::right: return "right";
    case WhichEyes::left: return "left";
    case WhichEyes::both: return "both";
    case WhichEyes::none: break;
  }
  return "none";
}

const char* word(FourDioptreResponse r) {
  switch (r) {
    case FourDioptreResponse::typical: return "typical";
    case FourDioptreResponse::no_movement: return "no_movement";
    case FourDioptreResponse::version_without_return: break;
  }
  return "version_without_return";
}

json to_json(const Condition& c) {
  return {{"distance_m", c.distance_m},
          {"spectacles", c.spectacles},
          {"fixing", name_of(c.fixing)},
          {"target_vertical_deg", c.target_vertical_deg},
          {"lens", word(c.lens)},
          {"cannot_fixate", c.cannot_fixate},
          {"horizontal_pd", unless(c.cannot_fixate, c.horizontal_pd)},
          {"vertical_pd", unless(c.cannot_fixate, c.vertical_pd)},
          {"torsion_deg", unless(c.cannot_fixate, c.torsion_deg)},
          {"alternating_horizontal_pd", unless(c.cannot_fixate, c.alternating_horizontal_pd)},
          {"neutralising_horizontal_pd", optional_number(c.neutralising_horizontal_pd)},
          {"neutralising_vertical_pd", optional_number(c.neutralising_vertical_pd)},
          {"manifest", word(c.manifest)},
          {"deviating_eye", word(c.deviating_eye)},
          {"manifest_horizontal_pd", rounded(c.manifest_horizontal_pd)},
          {"manifest_vertical_pd", rounded(c.manifest_vertical_pd)}};
}

json to_json(const Position& p) {
  return {{"horizontal_deg", p.horizontal_deg},
          {"vertical_deg", p.vertical_deg},
          {"roll_deg", p.roll_deg},
          {"fixing", name_of(p.fixing)},
          {"cannot_fixate", p.cannot_fixate},
          {"horizontal_pd", unless(p.cannot_fixate, p.horizontal_pd)},
          {"vertical_pd", unless(p.cannot_fixate, p.vertical_pd)},
          {"torsion_deg", unless(p.cannot_fixate, p.torsion_deg)},
          {"neutralising_horizontal_pd", optional_number(p.neutralising_horizontal_pd)},
          {"neutralising_vertical_pd", optional_number(p.neutralising_vertical_pd)}};
}

json to_json(const ReserveReading& r) {
  return {{"blur_pd", optional_number(r.blur_pd)},
          {"break_pd", optional_number(r.break_pd)},
          {"recovery_pd", optional_number(r.recovery_pd)}};
}

template <class T>
json list_of(const std::vector<T>& values) {
  json list = json::array();
  for (const T& v : values) list.push_back(to_json(v));
  return list;
}

json reserves_of(const Truth& truth) {
  json reserves = json::object();
  for (const ReservesAt& at : truth.reserves) {
    reserves[at.distance_m > 10.0  ? "far_distance"
             : at.distance_m > 1.0 ? "distance"
                                   : "near"] = {{"distance_m", at.distance_m},
                                                {"base_out", to_json(at.base_out)},
                                                {"base_in", to_json(at.base_in)}};
  }
  return reserves;
}

json posture_of(const std::optional<OwnPosture>& p) {
  if (!p) return nullptr;
  return {{"roll_deg", p->head.roll.value},         {"turn_deg", p->head.turn.value},
          {"chin_deg", p->head.chin.value},         {"horizontal_pd", rounded(p->horizontal_pd)},
          {"vertical_pd", rounded(p->vertical_pd)}, {"torsion_deg", rounded(p->torsion_deg)},
          {"manifest", word(p->manifest)}};
}

json control_of(const Truth& truth) {
  const auto number = [](const std::optional<int>& v) { return v ? json(*v) : json(nullptr); };
  return {{"distance", number(truth.control_distance)}, {"near", number(truth.control_near)}};
}

}  // namespace

json to_json(const Truth& truth, const std::string& urgency) {
  return {{"conditions", list_of(truth.conditions)},
          {"reading", list_of(truth.reading)},
          {"gaze", list_of(truth.gaze)},
          {"head_tilt", list_of(truth.head_tilt)},
          {"head_posture", posture_of(truth.own_posture)},
          {"comitant", truth.comitant},
          {"largest_change_pd", rounded(truth.largest_change_pd)},
          {"suppression_eye", word(truth.suppression_eye)},
          {"ac_a_gradient_pd_per_d", rounded(truth.ac_a_gradient_pd_per_d)},
          {"ac_a_heterophoria_pd_per_d", rounded(truth.ac_a_heterophoria_pd_per_d)},
          {"reserves", reserves_of(truth)},
          {"near_point_cm",
           {{"break", optional_number(truth.near_point_break_cm)},
            {"recovery", optional_number(truth.near_point_recovery_cm)}}},
          {"control_score", control_of(truth)},
          {"four_dioptre",
           {{"right", word(truth.four_dioptre.right)}, {"left", word(truth.four_dioptre.left)}}},
          {"recovery", {{"time_to_95_percent_ms", optional_number(truth.recovery_ms)}}},
          {"diagnosis", truth.diagnosis},
          {"urgency", urgency}};
}

}  // namespace redress::truth
