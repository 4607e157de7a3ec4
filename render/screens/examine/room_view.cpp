// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/room_view.hpp"

#include <cmath>

#include <fmt/format.h>

#include "sim/optics/sight.hpp"

namespace redress::screens::examine {

namespace {

std::string_view name_of(Base base) {
  switch (base) {
    case Base::in: return "in";
    case Base::out: return "out";
    case Base::up: return "up";
    case Base::down: return "down";
  }
  return "in";
}

std::string_view name_of(PrismHold held) {
  switch (held) {
    case PrismHold::frontal: return "frontal";
    case PrismHold::prentice: return "Prentice";
    case PrismHold::minimum: return "minimum deviation";
  }
  return "frontal";
}

std::string name_of(const HeldPiece& piece) {
  switch (piece.form) {
    case PrismForm::bar: {
      const bool across = piece.base == Base::in || piece.base == Base::out;
      return across ? "Horizontal bar, plastic" : "Vertical bar, plastic";
    }
    case PrismForm::loose_plastic: return "Loose, plastic";
    case PrismForm::loose_glass: return "Loose, glass";
  }
  return {};
}

void tell_occluder(const Session& session, const RoomViewChoice& choice, RoomView& v) {
  const bool opaque = session.occluder_kind() == OccluderKind::opaque;
  const OccluderState& o = session.live().room().occluder;
  v.occluder.caption = choice.compact ? "Occluder" : "Mouse hand";
  const KeyCaptions& keys = choice.captions;
  v.occluder.keys = {keys.of('A'), keys.of('D')};
  if (!choice.compact) {
    v.occluder.keys.push_back(keys.of('W'));
    v.occluder.keys.push_back(keys.of('S'));
  }
  v.occluder.now = opaque ? "Opaque occluder" : "Translucent occluder";
  const bool away = !o.before_face || o.leaving;
  if (away) {
    switch (session.hand().left_towards()) {
      case Side::above: v.occluder.detail = "Lifted upwards"; break;
      case Side::below: v.occluder.detail = "Lowered"; break;
      case Side::temporal: v.occluder.detail = "Taken outwards"; break;
      case Side::nasal: v.occluder.detail = "Taken across the nose"; break;
    }
    v.occluder_distance_mm = std::nullopt;
  } else {
    const double z = o.motion.travel_ms > 0 ? o.to.z_mm : o.pose.z_mm;
    const double distance = std::round(-z - optics::kCorneaToCentreMm);
    const bool left = session.hand().grip() == Hand::Grip::left_there;
    v.occluder.detail = left ? fmt::format("Left there, {:.0f} mm", distance)
                             : fmt::format("{:.0f} mm from the cornea", distance);
    v.occluder_distance_mm = distance;
  }
  v.distance_band = choice.practice;
  if (choice.compact) {
    v.occluder.now = away ? "lowered" : fmt::format("{:.0f} mm", v.occluder_distance_mm.value());
    if (!opaque) {
      v.occluder.caption = "Translucent";
      v.occluder.keys.clear();
    }
  }
}

void tell_prism(const Session& session, const RoomViewChoice& choice, RoomView& v) {
  const HeldPiece& active = session.prisms().active();
  const auto pieces = session.prisms().pieces();
  v.prism.caption = choice.compact ? "Prism" : "Other hand";
  v.prism.keys = {choice.captions.of('Q'), choice.captions.of('E')};
  v.prism.open = session.drawer() == Drawer::prism;
  v.bar_steps = find_steps(active.base);
  if (!active.taken) {
    v.prism.now = choice.compact ? "none" : "Empty";
    v.prism.detail = fmt::format("{} takes {:g}Δ base {}, {} eye", choice.captions.of('F'),
                                 find_steps(active.base)[active.goal], name_of(active.base),
                                 redress::name_of(active.eye));
    return;
  }
  v.bar_at = active.at;
  v.prism.now = format_piece(pieces.front(), choice.compact || pieces.size() > 1);
  if (pieces.size() > 1) {
    v.prism.now += choice.compact ? " +" : " and " + format_piece(pieces.back(), true);
  }
  v.prism.detail = fmt::format("{}, {}", name_of(active), name_of(active.held));
}

void tell_target(const Session& session, const RoomViewChoice& choice, RoomView& v) {
  const act::ShowTarget& t = session.target();
  v.target.caption = "Target";
  v.target.keys = {choice.captions.of('T')};
  v.target.open = session.drawer() == Drawer::target;
  std::string_view kind;
  for (const TargetWords& words : kTargets) {
    if (words.kind == t.kind) kind = words.words;
  }
  const bool sized = t.kind != TargetKind::spot;
  v.target.now = std::string(kind);
  if (sized) v.target.now += fmt::format(", {:.1f} logMAR", t.size_logmar);
  const CasePatient& patient = session.the_case().patient;
  std::string distance = format_distance(t.distance_m);
  if (!session.work_is_known()) {
    // A patient's own distances carry no number until they were asked for.
    if (t.distance_m == patient.screen_distance.value) distance = "Own screen";
    const bool named = t.distance_m == 0.40 || t.distance_m == 0.33;
    if (t.distance_m == patient.near_working_distance.value && !named) {
      distance = "Own reading distance";
    }
  }
  if (session.near_point_runs())
    distance = fmt::format("Coming nearer, {} stops it", choice.captions.of('M'));
  std::string gaze = "straight ahead";
  if (t.horizontal_deg != 0 || t.vertical_deg != 0) {
    gaze = fmt::format("{}{}{}",
                       t.vertical_deg > 0   ? "up"
                       : t.vertical_deg < 0 ? "down"
                                            : "",
                       t.vertical_deg != 0 && t.horizontal_deg != 0 ? " and " : "",
                       t.horizontal_deg > 0   ? "to the patient's right"
                       : t.horizontal_deg < 0 ? "to the patient's left"
                                              : "");
  }
  v.target.detail = session.near_point_runs() ? distance : distance + ", " + gaze;
  if (choice.compact) {
    v.target.now = sized ? fmt::format("{:.1f}, {}", t.size_logmar, distance)
                         : fmt::format("spot, {}", distance);
    if (session.near_point_runs()) v.target.now = "coming nearer";
  }
}

void tell_correction(const Session& session, const RoomViewChoice& choice, RoomView& v) {
  const Case& c = session.the_case();
  const RoomState& room = session.live().room();
  v.correction.caption = choice.compact ? "Specs" : "Correction";
  v.correction.keys = {choice.captions.of('C')};
  v.correction.open = session.drawer() == Drawer::correction;
  const bool lenses = room.lenses_d.right != 0 || room.lenses_d.left != 0;
  if (choice.compact) {
    v.correction.now = !c.spectacles.owned() ? "none" : room.spectacles_worn ? "on" : "off";
    if (lenses) v.correction.now = c.spectacles.owned() ? v.correction.now + ", lenses" : "lenses";
    return;
  }
  v.correction.now = lenses ? (room.spectacles_worn ? "Specs and lenses" : "Trial lenses")
                     : room.spectacles_worn ? "Spectacles on"
                                            : "Uncorrected";
  const auto& lens = c.spectacles.lens;
  if (lenses) {
    v.correction.detail =
        "R " + format_dioptres(room.lenses_d.right) + " L " + format_dioptres(room.lenses_d.left);
  } else if (!c.spectacles.owned()) {
    v.correction.detail = "Has none";
  } else if (!room.spectacles_worn) {
    v.correction.detail = "Own ones taken off";
  } else {
    const auto power = [](const std::optional<CaseSpectacleLens>& l) {
      return format_dioptres(l ? l->sphere.value : 0.0);
    };
    v.correction.detail = "R " + power(lens.right) + " L " + power(lens.left);
  }
}

void tell_speech(const Session& session, const RoomViewChoice& choice, RoomView& v) {
  v.speech.caption = choice.compact ? "Say" : "Say or ask";
  v.speech.keys = {choice.captions.of('X')};
  v.speech.open = session.drawer() == Drawer::say;
  const auto last = session.last_phrase();
  if (!last) {
    v.speech.now = choice.compact ? "–" : "Nothing said yet";
    v.speech.detail = choice.captions.of('X') + ", then 1 to 8";
    return;
  }
  const Phrase& phrase = kPhrases[*last];
  const int times = session.times_said(*last);
  if (choice.compact) {
    v.speech.now = "“" + std::string(phrase.brief) + "”";
    return;
  }
  const bool request = phrase.kind == PhraseKind::request;
  v.speech.now = request ? std::string(phrase.words) : "“" + std::string(phrase.words) + "”";
  const std::string_view verb = request                               ? "Looked up"
                                : phrase.kind == PhraseKind::instruct ? "Said"
                                                                      : "Asked";
  v.speech.detail = times == 1   ? fmt::format("{} once", verb)
                    : times == 2 ? fmt::format("{} twice", verb)
                                 : fmt::format("{} {} times", verb, times);
}

void tell_view(const Session& session, const RoomViewChoice& choice, RoomView& v) {
  v.view.caption = "My view";
  v.view.keys = {choice.captions.of('Z')};
  v.view.open = session.drawer() == Drawer::view;
  const bool both = session.closeness() == Closeness::both;
  v.view.now = both ? "Both eyes" : session.view_eye() == Eye::right ? "Right eye" : "Left eye";
  const double right = session.lean_right_mm();
  const double up = session.lean_up_mm();
  if (right == 0 && up == 0) {
    v.view.detail = session.closeness() == Closeness::close ? "Close, in front" : "In front";
  } else {
    v.view.detail = std::abs(right) >= std::abs(up)
                        ? fmt::format("{:.0f} mm {}", std::abs(right), right > 0 ? "right" : "left")
                        : fmt::format("{:.0f} mm {}", std::abs(up), up > 0 ? "up" : "down");
  }

  if (choice.station) v.view.detail = "Fixed for all";
  const double scale = session.view().pixels_per_mm;
  if (!choice.screen_pixels_per_mm) {
    v.readout = "Size on this screen not known";
    v.short_readout = "size not known";
    return;
  }
  const double magnification = scale / *choice.screen_pixels_per_mm;
  v.readout =
      fmt::format("{:.1f}× life size  ·  1Δ turns the eye {:.2f} mm = {:.2f} mm on this screen",
                  magnification, kMmPerPrismDioptre, kMmPerPrismDioptre * magnification);
  v.short_readout =
      fmt::format("{:.1f}× life, 1Δ {:.2f} mm", magnification, kMmPerPrismDioptre * magnification);
  if (choice.station) v.readout = "Fixed for this circuit: " + v.readout;
}

}  // namespace

std::string format_piece(const HeldPiece& piece, bool compact) {
  const double label = find_steps(piece.base)[piece.at];
  if (compact) {
    return fmt::format("{:g}Δ {}, {}", label, name_of(piece.base),
                       piece.eye == Eye::right ? "R" : "L");
  }
  return fmt::format("{:g}Δ base {}, {} eye", label, name_of(piece.base),
                     redress::name_of(piece.eye));
}

std::string format_distance(double metres) {
  if (metres < 1.0) return fmt::format("{:g} cm", std::round(metres * 1000.0) / 10.0);
  return fmt::format("{:g} m", std::round(metres * 100.0) / 100.0);
}

std::string format_dioptres(double value) {
  if (value == 0) return "0.00";
  return fmt::format("{}{:.2f}", value < 0 ? "−" : "+", std::abs(value));
}

std::string format_clock(Tick at) {
  const Tick seconds = at / 1000;
  return fmt::format("{:02}:{:02}", seconds / 60, seconds % 60);
}

std::string format_time_left(Tick left) {
  const Tick seconds = (left + 999) / 1000;  // the last one counts down to 0:00
  return fmt::format("{}:{:02}", seconds / 60, seconds % 60);
}

RoomView make_room_view(const Session& session, const RoomViewChoice& choice) {
  RoomView v;
  const CasePatient& patient = session.the_case().patient;
  v.name = patient.name.empty() ? "Patient" : patient.name;
  v.age = fmt::format("{:.0f}", std::floor(patient.age_years));
  v.mode = choice.mode;
  v.short_mode = choice.short_mode;
  v.coach = choice.coach;
  v.clock = format_clock(choice.time_left.value_or(session.now()));
  v.station = choice.station;
  if (v.station) v.clock = format_time_left(choice.time_left.value_or(0));
  v.entries = choice.entries;
  v.story_key = choice.captions.of('H');
  v.tasks_key = choice.captions.of('J');
  v.card_key = choice.captions.of('N');
  v.card.caption = "Card";
  v.card.keys = {choice.captions.of('N')};
  v.card.now = choice.entries == 1 ? "1 entry" : fmt::format("{} entries", choice.entries);
  tell_occluder(session, choice, v);
  tell_prism(session, choice, v);
  tell_target(session, choice, v);
  tell_correction(session, choice, v);
  tell_speech(session, choice, v);
  tell_view(session, choice, v);
  v.message = session.messages().shown();
  return v;
}

}  // namespace redress::screens::examine
