// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/drawers.hpp"

#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "render/screens/examine/room_view.hpp"

namespace redress::screens::examine {

namespace {

constexpr Scancode digit(int n) { return static_cast<Scancode>(hid::kDigit1 + n - 1); }
constexpr Scancode function_key(std::size_t index) {
  return static_cast<Scancode>(hid::kF1 + index);
}

DrawerItem chip(std::string_view label, std::string_view key, bool chosen, Order order) {
  DrawerItem item;
  item.label = std::string(label);
  item.key = std::string(key);
  item.chosen = chosen;
  item.order = order;
  return item;
}

DrawerItem stepper(std::string_view label, double value, double least, double most, double step,
                   int decimals, std::string_view unit, Command command) {
  DrawerItem item;
  item.kind = DrawerItem::Kind::stepper;
  item.label = std::string(label);
  item.value = value;
  item.least = least;
  item.most = most;
  item.step = step;
  item.decimals = decimals;
  item.unit = std::string(unit);
  item.order = {command, 0, 0};
  return item;
}

/// 1 ... 9 as on the number pad; none while the target is elsewhere.
int find_gaze(const act::ShowTarget& t) {
  const auto third = [](double deg) { return deg > 0 ? 1 : deg < 0 ? -1 : 0; };
  return (third(t.vertical_deg) + 1) * 3 + (1 - third(t.horizontal_deg)) + 1;
}

void add_view_rows(const Session& session, const KeyCaptions& keys, std::vector<DrawerRow>& rows) {
  const Closeness c = session.closeness();
  rows.push_back({"My view",
                  {chip("Both eyes", keys.of('Z'), c == Closeness::both, {Command::view, 0}),
                   chip("One eye", "", c == Closeness::one_eye, {Command::view, 1}),
                   chip("Close", "", c == Closeness::close, {Command::view, 2}),
                   chip(session.view_eye() == Eye::right ? "Of the right eye" : "Of the left eye",
                        "", false, {Command::view_other_eye})}});
  rows.push_back(
      {"Lean",
       {chip("Left", "", session.lean_right_mm() < 0, {Command::lean, -20, 0}),
        chip("Right", "", session.lean_right_mm() > 0, {Command::lean, 20, 0}),
        chip("Up", "", session.lean_up_mm() > 0, {Command::lean, 0, 20}),
        chip("Down", "", session.lean_up_mm() < 0, {Command::lean, 0, -20}),
        chip("Straight in front", "", session.lean_right_mm() == 0 && session.lean_up_mm() == 0,
             {Command::lean_back})}});
  // As hands hold it; how a patient holds its own is to be seen.
  DrawerRow head{"Head", {}};
  for (std::size_t i = 0; i < kHeadPoses.size(); ++i) {
    head.items.push_back(chip(kHeadPoses[i].words, "", session.head_pose() == i,
                              {Command::head, static_cast<double>(i)}));
  }
  rows.push_back(std::move(head));
  rows.push_back(
      {"Light",
       {chip("Room bright", "", !session.live().room().dim, {Command::room_light, 0}),
        chip("Room dim", keys.of('L'), session.live().room().dim, {Command::room_light, 1}),
        chip("Penlight", keys.of('B'), session.live().room().penlight, {Command::penlight})}});
  // For who has no key under a finger.
  constexpr auto kHelp = static_cast<double>(Drawer::help);
  rows.push_back(
      {"Also",
       {chip("Occluder anticlockwise", keys.of(hid::kHome), false, {Command::occluder_roll, -5}),
        chip("Clockwise", keys.of(hid::kEnd), false, {Command::occluder_roll, 5}),
        chip("Hands and keys", keys.of(function_key(11)), false, {Command::drawer, kHelp}),
        chip("What comes next", keys.of(function_key(8)), false, {Command::coach})}});
}

DrawerView make_target(const Session& session, bool compact, const KeyCaptions& keys) {
  DrawerView view;
  const act::ShowTarget& t = session.target();
  DrawerRow kinds{"Target", {}};
  for (std::size_t i = 0; i < kTargets.size(); ++i) {
    kinds.items.push_back(chip(kTargets[i].words, "", t.kind == kTargets[i].kind,
                               {Command::target_kind, static_cast<double>(i)}));
  }
  const CasePatient& patient = session.the_case().patient;
  DrawerRow distances{"Distance", {}};
  for (std::size_t i = 0; i < kDistances.size(); ++i) {
    const DistanceChoice& d = kDistances[i];
    const double metres = d.name == DistanceName::screen    ? patient.screen_distance.value
                          : d.name == DistanceName::working ? patient.near_working_distance.value
                                                            : d.distance_m;
    std::string words{d.words};
    if (d.distance_m == 0 && session.work_is_known()) {
      words = fmt::format("{}, {}", d.name == DistanceName::screen ? "Screen" : "Reading",
                          format_distance(metres));
    }
    // A patient's own distance is marked only where no usual one is the same.
    const bool own = d.distance_m == 0;
    bool chosen = t.distance_m == metres;
    for (const DistanceChoice& other : kDistances) {
      if (own && other.distance_m == metres) chosen = false;
    }
    distances.items.push_back(chip(words, i < 6 ? keys.of(function_key(i)) : "", chosen,
                                   {Command::target_distance, static_cast<double>(i)}));
  }
  DrawerRow size{"Size", {}};
  size.items.push_back(stepper("", t.size_logmar, kSmallestLogmar, kLargestLogmar, 0.1, 1, "logMAR",
                               Command::target_logmar));
  size.items.push_back(
      stepper("At", t.distance_m, kNearPointEnd, 20, 0.05, 2, "m", Command::target_distance_m));
  size.items.push_back(chip(session.near_point_runs() ? "Stop it here" : "Bring it nearer",
                            keys.of('M'), session.near_point_runs(), {Command::near_point}));
  view.rows = {std::move(kinds), std::move(distances), std::move(size)};
  if (compact) {
    DrawerRow gaze{"Gaze", {}};
    for (int i = 1; i <= 9; ++i) {
      gaze.items.push_back(chip(fmt::format("{}", i), "", find_gaze(t) == i,
                                {Command::gaze, static_cast<double>(i)}));
    }
    view.rows.push_back(std::move(gaze));
    add_view_rows(session, keys, view.rows);
  } else {
    view.gaze = find_gaze(t);
    view.hint = "Tab and arrows move  ·  Enter sets  ·  Esc closes. The eyes stay in view.";
  }
  return view;
}

/// sim/optics/prism.hpp: the holds, and what each material is calibrated for.
std::string_view explain(PrismHold held) {
  switch (held) {
    case PrismHold::frontal: return "back face parallel to the face; plastic is marked for this";
    case PrismHold::prentice:
      return "back face square to the line of sight; glass is marked for this";
    case PrismHold::minimum: break;
  }
  return "turned to where it deviates the light least";
}

DrawerView make_prism(const Session& session, const KeyCaptions& keys) {
  const HeldPiece& p = session.prisms().active();
  DrawerView view;
  view.rows.push_back(
      {"Kind",
       {chip("Prism bar", keys.of(digit(5)), p.form == PrismForm::bar, {Command::prism_kind, 0}),
        chip("Loose, plastic", "", p.form == PrismForm::loose_plastic, {Command::prism_kind, 1}),
        chip("Loose, glass", "", p.form == PrismForm::loose_glass, {Command::prism_kind, 2}),
        chip("Weaker", keys.of('Q'), false, {Command::prism_step, -1}),
        chip("Stronger", keys.of('E'), false, {Command::prism_step, 1})}});
  view.rows.push_back(
      {"Base",
       {chip("In", keys.of(digit(1)), p.base == Base::in, {Command::prism_base, 0}),
        chip("Out", keys.of(digit(2)), p.base == Base::out, {Command::prism_base, 1}),
        chip("Up", keys.of(digit(3)), p.base == Base::up, {Command::prism_base, 2}),
        chip("Down", keys.of(digit(4)), p.base == Base::down, {Command::prism_base, 3})}});
  const std::size_t count = session.prisms().pieces().size();
  const bool split = count > 1 && session.prisms().pieces()[0].eye != p.eye;
  view.rows.push_back(
      {"Before",
       {chip(p.taken ? "Put away" : "Take it up", keys.of('F'), p.taken, {Command::prism_take}),
        chip(p.eye == Eye::right ? "To the left eye" : "To the right eye", keys.of('R'), false,
             {Command::prism_other_eye}),
        chip(count == 1 ? "Split between both"
             : split    ? "Stack before one"
                        : "One again",
             keys.of('G'), count > 1, {Command::prism_split})}});
  view.rows.push_back(
      {"Held",
       {chip("Frontal", "", p.held == PrismHold::frontal, {Command::prism_held, 0}),
        chip("Prentice", "", p.held == PrismHold::prentice, {Command::prism_held, 1}),
        chip("Minimum deviation", "", p.held == PrismHold::minimum, {Command::prism_held, 2})}});
  DrawerItem meaning;
  meaning.kind = DrawerItem::Kind::words;
  meaning.label = explain(p.held);
  view.rows.back().items.push_back(std::move(meaning));
  return view;
}

DrawerView make_correction(const Session& session) {
  const PerEye<double>& lens = session.trial_lenses_d();
  const bool worn = session.live().room().spectacles_worn;
  const bool none = lens.right == 0 && lens.left == 0;
  DrawerView view;
  view.rows.push_back({"Spectacles",
                       {chip("On", "", worn, {Command::spectacles, 1}),
                        chip("Off", "", !worn, {Command::spectacles, 0})}});
  view.rows.push_back(
      {"Trial lenses",
       {stepper("Right", lens.right, -20, 20, 0.25, 2, "D", Command::trial_lens_right),
        stepper("Left", lens.left, -20, 20, 0.25, 2, "D", Command::trial_lens_left)}});
  const auto both = [&](double power) { return lens.right == power && lens.left == power; };
  view.rows.push_back({"Both eyes",
                       {chip("None", "", none, {Command::trial_lenses, 0}),
                        chip("+1.00", "", both(1), {Command::trial_lenses, 1}),
                        chip("+2.00", "", both(2), {Command::trial_lenses, 2}),
                        chip("+3.00", "", both(3), {Command::trial_lenses, 3}),
                        chip("−1.00", "", both(-1), {Command::trial_lenses, -1}),
                        chip("−2.00", "", both(-2), {Command::trial_lenses, -2}),
                        chip("−3.00", "", both(-3), {Command::trial_lenses, -3})}});
  view.hint = "Lenses stand before whatever is worn.";
  return view;
}

DrawerView make_say(const Session& session) {
  constexpr std::pair<PhraseKind, std::string_view> kRows[] = {{PhraseKind::instruct, "Say"},
                                                               {PhraseKind::ask, "Ask"},
                                                               {PhraseKind::history, "History"},
                                                               {PhraseKind::request, "On file"}};
  DrawerView view;
  for (const auto& [kind, label] : kRows) {
    DrawerRow row{std::string(label), {}};
    for (std::size_t i = 0; i < kPhrases.size(); ++i) {
      if (kPhrases[i].kind != kind) continue;
      DrawerItem item =
          chip(kPhrases[i].label, i < kPhrasesOnDigits ? fmt::format("{}", i + 1) : "", false,
               {Command::say, static_cast<double>(i)});
      item.done = session.times_said(i) > 0 && kind != PhraseKind::instruct;
      row.items.push_back(std::move(item));
    }
    view.rows.push_back(std::move(row));
  }
  return view;
}

}  // namespace

DrawerView make_drawer(const Session& session, Drawer drawer, bool compact,
                       const KeyCaptions& keys) {
  switch (drawer) {
    case Drawer::target: return make_target(session, compact, keys);
    case Drawer::prism: return make_prism(session, keys);
    case Drawer::correction: return make_correction(session);
    case Drawer::say: return make_say(session);
    case Drawer::view: {
      DrawerView view;
      add_view_rows(session, keys, view.rows);
      return view;
    }
    case Drawer::story:
    case Drawer::help:
    case Drawer::tasks:
    case Drawer::none: break;
  }
  return {};
}

}  // namespace redress::screens::examine
