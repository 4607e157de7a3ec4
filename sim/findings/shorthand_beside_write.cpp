// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Writing what stands beside a size: shorthand and plain words.
#include <algorithm>
#include <array>
#include <string>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/findings/phrases.hpp"
#include "sim/findings/shorthand.hpp"
#include "sim/findings/shorthand_beside.hpp"

namespace redress::findings {

using elementary::magnitude;

namespace {

const char* mark_of(FindingEye eye) { return eye == FindingEye::right ? "R" : "L"; }
const char* name_of(FindingEye eye) { return eye == FindingEye::right ? "right" : "left"; }

const char* way_mark(SeenWay way) {
  switch (way) {
    case SeenWay::none: return "still";
    case SeenWay::in: return "in";
    case SeenWay::out: return "out";
    case SeenWay::up: return "up";
    case SeenWay::down: return "down";
  }
  return "";
}

const char* duction_words(SeenWay way) {
  switch (way) {
    case SeenWay::none: return "full";
    case SeenWay::in: return "short of adduction";
    case SeenWay::out: return "short of abduction";
    case SeenWay::up: return "short of elevation";
    case SeenWay::down: return "short of depression";
  }
  return "";
}

int sign_of(std::optional<double> deg) {
  const double value = deg.value_or(0.0);
  return value > 0.0 ? 1 : value < 0.0 ? -1 : 0;
}

// The parts of a posture that have a phrase; whole otherwise.
std::string posture_mark(const std::string& posture) {
  constexpr std::array<std::array<std::string_view, 2>, 7> kKnown{
      {{"head tilt right", "head tilt R"},
       {"head tilt left", "head tilt L"},
       {"face turn right", "face turn R"},
       {"face turn left", "face turn L"},
       {"chin up", "chin up"},
       {"chin down", "chin down"},
       {"straight", "no AHP"}}};
  Phrases marks(" ");
  std::string_view left = posture;
  while (!left.empty()) {
    const std::size_t comma = left.find(", ");
    const std::string_view part = left.substr(0, comma);
    left = comma == std::string_view::npos ? std::string_view{} : left.substr(comma + 2);
    const auto known = std::find_if(kKnown.begin(), kKnown.end(),
                                    [&](const auto& each) { return each[0] == part; });
    if (known == kKnown.end()) return "AHP “" + posture + "”";
    marks.add((*known)[1]);
  }
  return marks.take();
}

void add_movements(const Finding& f, Phrases& marks, bool words) {
  for (const bool uncover : {false, true}) {
    const auto& eyes = uncover ? f.on_uncover : f.on_cover;
    for (const FindingEye eye : {FindingEye::right, FindingEye::left}) {
      const auto& way = eye == FindingEye::right ? eyes.right : eyes.left;
      if (!way) continue;
      const char* when = uncover ? "uncover" : "cover";
      marks.add(words ? fmt::format("{} eye {} on {}", name_of(eye), way_mark(*way), when)
                      : fmt::format("{}E {} on {}", mark_of(eye), way_mark(*way), when));
    }
  }
}

}  // namespace

bool has_position(const Finding& f) {
  return f.gaze_horizontal_deg || f.gaze_vertical_deg || f.head_roll_deg;
}

bool has_shortfall(const Finding& f) { return f.falls_short.right || f.falls_short.left; }

bool says_something(const Finding& f) {
  return has_position(f) || has_shortfall(f) || !write_beside(f).empty();
}

std::string write_position(const Finding& f) {
  if (!has_position(f)) return "";
  const int across = sign_of(f.gaze_horizontal_deg);
  const int up = sign_of(f.gaze_vertical_deg);
  const auto degrees = [](double deg) { return write_number(magnitude(deg)) + "°"; };
  Phrases marks(" ");
  if (const int side = sign_of(f.head_roll_deg); side != 0) {
    marks.add(side > 0 ? "tilt R" : "tilt L");
    if (magnitude(*f.head_roll_deg) != kUsualTiltDeg) marks.add(degrees(*f.head_roll_deg));
  }
  if (across != 0 || up != 0) {
    std::string name = up > 0 ? "up" : up < 0 ? "down" : "";
    if (across != 0) name += std::string(up != 0 ? "-" : "") + (across > 0 ? "R" : "L");
    marks.add(name + " gaze");
    const double h = magnitude(f.gaze_horizontal_deg.value_or(0.0));
    const double v = magnitude(f.gaze_vertical_deg.value_or(0.0));
    const bool usual = (across == 0 || h == kUsualGazeDeg) && (up == 0 || v == kUsualGazeDeg);
    if (!usual && across != 0 && up != 0 && h != v) {
      marks.add(degrees(h) + "/" + degrees(v));
    } else if (!usual) {
      marks.add(degrees(across != 0 ? h : v));
    }
  } else if (sign_of(f.head_roll_deg) == 0) {
    marks.add("primary");
  }
  return marks.take();
}

std::string write_shortfall(const Finding& f) {
  if (f.falls_short.right == SeenWay::none && f.falls_short.left == SeenWay::none) return "full";
  Phrases marks(" ");
  if (f.falls_short.right) marks.add(std::string("RE ") + duction_words(*f.falls_short.right));
  if (f.falls_short.left) marks.add(std::string("LE ") + duction_words(*f.falls_short.left));
  return marks.take();
}

std::string write_beside(const Finding& f) {
  Phrases marks(" ");
  if (f.covers_to_break) marks.add(fmt::format("{} covers to break", *f.covers_to_break));
  if (f.holds_to_blink) marks.add(*f.holds_to_blink ? "holds to blink" : "does not hold");
  add_movements(f, marks, false);
  if (f.pattern) {
    marks.add(*f.pattern == SeenPattern::a   ? "A pattern"
              : *f.pattern == SeenPattern::v ? "V pattern"
                                             : "no pattern");
  }
  if (f.torsion_deg) {
    const double deg = *f.torsion_deg;
    marks.add(deg == 0.0 ? "no torsion"
                         : fmt::format("{} {}°", deg > 0.0 ? "excyclo" : "incyclo",
                                       write_number(magnitude(deg))));
  }
  if (f.dvd) marks.add(*f.dvd ? "DVD" : "no DVD");
  if (f.nystagmus) marks.add(*f.nystagmus ? "nystagmus" : "no nystagmus");
  if (f.double_vision) marks.add(*f.double_vision ? "diplopia" : "no diplopia");
  marks.add(posture_mark(f.head_posture));
  marks.add(f.target);
  if (f.fixing && *f.fixing != FindingEye::both && *f.fixing != FindingEye::alternating) {
    marks.add(std::string("fix ") + mark_of(*f.fixing));
  }
  if (f.confidence) {
    marks.add(*f.confidence == Confidence::sure   ? "sure"
              : *f.confidence == Confidence::fair ? "fairly sure"
                                                  : "unsure");
  }
  if (!f.not_done.empty()) marks.add("not done “" + f.not_done + "”");
  return marks.take();
}

std::string position_words(const Finding& f) {
  if (!has_position(f)) return "";
  Phrases words(", ");
  if (const int side = sign_of(f.head_roll_deg); side != 0) {
    words.add(fmt::format("head tilted {} {}°", side > 0 ? "right" : "left",
                          write_number(magnitude(*f.head_roll_deg))));
  }
  const int across = sign_of(f.gaze_horizontal_deg);
  const int up = sign_of(f.gaze_vertical_deg);
  if (across == 0 && up == 0) {
    if (sign_of(f.head_roll_deg) == 0) words.add("looking straight ahead");
    return words.take();
  }
  std::string where = up > 0 ? "up" : up < 0 ? "down" : "";
  if (across != 0) {
    where += std::string(up != 0 ? " and to the " : "to the ") + (across > 0 ? "right" : "left");
  }
  const double h = magnitude(f.gaze_horizontal_deg.value_or(0.0));
  const double v = magnitude(f.gaze_vertical_deg.value_or(0.0));
  const std::string both = across != 0 && up != 0 && h != v
                               ? fmt::format("{}° and {}°", write_number(v), write_number(h))
                               : fmt::format("{}°", write_number(across != 0 ? h : v));
  words.add("looking " + where + " " + both);
  return words.take();
}

std::string beside_words(const Finding& f) {
  Phrases words(", ");
  if (f.covers_to_break) {
    words.add(fmt::format("manifest after {} covers", *f.covers_to_break));
  }
  if (f.holds_to_blink) {
    words.add(*f.holds_to_blink ? "holds fixation to the next blink"
                                : "does not hold fixation to the next blink");
  }
  add_movements(f, words, true);
  if (f.pattern) {
    words.add(*f.pattern == SeenPattern::a   ? "A pattern"
              : *f.pattern == SeenPattern::v ? "V pattern"
                                             : "no A or V pattern");
  }
  if (f.torsion_deg) {
    const double deg = *f.torsion_deg;
    words.add(deg == 0.0 ? "no torsion"
                         : fmt::format("{} {}°", deg > 0.0 ? "excyclotorsion" : "incyclotorsion",
                                       write_number(magnitude(deg))));
  }
  if (f.dvd) words.add(*f.dvd ? "dissociated vertical deviation" : "no DVD");
  if (f.nystagmus) words.add(*f.nystagmus ? "nystagmus" : "no nystagmus");
  if (f.double_vision) words.add(*f.double_vision ? "double vision" : "no double vision");
  if (!f.head_posture.empty()) words.add("head posture: " + f.head_posture);
  if (!f.target.empty()) words.add("target: " + f.target);
  if (f.fixing && *f.fixing != FindingEye::both && *f.fixing != FindingEye::alternating) {
    words.add(std::string("the ") + name_of(*f.fixing) + " eye fixing");
  }
  if (f.confidence) {
    words.add(*f.confidence == Confidence::sure   ? "sure"
              : *f.confidence == Confidence::fair ? "fairly sure"
                                                  : "unsure");
  }
  if (!f.not_done.empty()) words.add("could not be tested: " + f.not_done);
  return words.take();
}

}  // namespace redress::findings
