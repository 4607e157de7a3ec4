// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/shorthand_beside.hpp"

#include <algorithm>
#include <cstddef>
#include <span>
#include <vector>

namespace redress::findings {

namespace {

std::vector<std::string> to_words(std::string_view phrase) {
  std::vector<std::string> words(1);
  for (const char c : phrase) {
    if (c != ' ' && c != '-') {
      words.back() += c;
    } else if (!words.back().empty()) {
      words.emplace_back();
    }
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

bool is_any(std::string_view word, std::initializer_list<std::string_view> of) {
  return std::find(of.begin(), of.end(), word) != of.end();
}

// +1 right, -1 left.
int read_side(std::string_view w) {
  if (is_any(w, {"R", "RIGHT", "RE", "OD"})) return 1;
  return is_any(w, {"L", "LEFT", "LE", "OS"}) ? -1 : 0;
}
FindingEye to_eye(int side) { return side > 0 ? FindingEye::right : FindingEye::left; }

// ------------------------------------------------------------------------------- fixed phrases

struct Phrase {
  std::string_view text;
  void (*say)(Finding&);
};

void set_gaze(Finding& f, int across, int up) {
  f.gaze_horizontal_deg = across * kUsualGazeDeg;
  f.gaze_vertical_deg = up * kUsualGazeDeg;
}

constexpr Phrase kPhrases[] = {
    {"PRIMARY", [](Finding& f) { set_gaze(f, 0, 0); }},
    {"PRIMARY POSITION", [](Finding& f) { set_gaze(f, 0, 0); }},
    {"PP", [](Finding& f) { set_gaze(f, 0, 0); }},
    {"STRAIGHT AHEAD", [](Finding& f) { set_gaze(f, 0, 0); }},
    {"UPGAZE", [](Finding& f) { set_gaze(f, 0, 1); }},
    {"DOWNGAZE", [](Finding& f) { set_gaze(f, 0, -1); }},
    {"DEXTROVERSION", [](Finding& f) { set_gaze(f, 1, 0); }},
    {"LAEVOVERSION", [](Finding& f) { set_gaze(f, -1, 0); }},
    {"LEVOVERSION", [](Finding& f) { set_gaze(f, -1, 0); }},
    {"DEXTROELEVATION", [](Finding& f) { set_gaze(f, 1, 1); }},
    {"LAEVOELEVATION", [](Finding& f) { set_gaze(f, -1, 1); }},
    {"LEVOELEVATION", [](Finding& f) { set_gaze(f, -1, 1); }},
    {"DEXTRODEPRESSION", [](Finding& f) { set_gaze(f, 1, -1); }},
    {"LAEVODEPRESSION", [](Finding& f) { set_gaze(f, -1, -1); }},
    {"LEVODEPRESSION", [](Finding& f) { set_gaze(f, -1, -1); }},
    {"FR", [](Finding& f) { f.fixing = FindingEye::right; }},
    {"FRE", [](Finding& f) { f.fixing = FindingEye::right; }},
    {"FL", [](Finding& f) { f.fixing = FindingEye::left; }},
    {"FLE", [](Finding& f) { f.fixing = FindingEye::left; }},
    {"A PATTERN", [](Finding& f) { f.pattern = SeenPattern::a; }},
    {"V PATTERN", [](Finding& f) { f.pattern = SeenPattern::v; }},
    {"NO PATTERN", [](Finding& f) { f.pattern = SeenPattern::none; }},
    {"NO TORSION", [](Finding& f) { f.torsion_deg = 0.0; }},
    {"DVD", [](Finding& f) { f.dvd = true; }},
    {"NO DVD", [](Finding& f) { f.dvd = false; }},
    {"RDVD",
     [](Finding& f) {
       f.dvd = true;
       f.remark = "right DVD";
     }},
    {"LDVD",
     [](Finding& f) {
       f.dvd = true;
       f.remark = "left DVD";
     }},
    {"NYSTAGMUS", [](Finding& f) { f.nystagmus = true; }},
    {"NYST", [](Finding& f) { f.nystagmus = true; }},
    {"NYS", [](Finding& f) { f.nystagmus = true; }},
    {"NO NYSTAGMUS", [](Finding& f) { f.nystagmus = false; }},
    {"NO NYST", [](Finding& f) { f.nystagmus = false; }},
    {"LN",
     [](Finding& f) {
       f.nystagmus = true;
       f.remark = "latent nystagmus";
     }},
    {"MLN",
     [](Finding& f) {
       f.nystagmus = true;
       f.remark = "manifest latent nystagmus";
     }},
    {"LMLN",
     [](Finding& f) {
       f.nystagmus = true;
       f.remark = "manifest latent nystagmus";
     }},
    {"LATENT NYSTAGMUS",
     [](Finding& f) {
       f.nystagmus = true;
       f.remark = "latent nystagmus";
     }},
    {"DIPLOPIA", [](Finding& f) { f.double_vision = true; }},
    {"DIPL", [](Finding& f) { f.double_vision = true; }},
    {"DOUBLE", [](Finding& f) { f.double_vision = true; }},
    {"DOUBLE VISION", [](Finding& f) { f.double_vision = true; }},
    {"NO DIPLOPIA", [](Finding& f) { f.double_vision = false; }},
    {"NO DIPL", [](Finding& f) { f.double_vision = false; }},
    {"SURE", [](Finding& f) { f.confidence = Confidence::sure; }},
    {"CERTAIN", [](Finding& f) { f.confidence = Confidence::sure; }},
    {"FAIRLY SURE", [](Finding& f) { f.confidence = Confidence::fair; }},
    {"UNSURE", [](Finding& f) { f.confidence = Confidence::unsure; }},
    {"NOT SURE", [](Finding& f) { f.confidence = Confidence::unsure; }},
    {"HOLDS", [](Finding& f) { f.holds_to_blink = true; }},
    {"HOLDS TO BLINK", [](Finding& f) { f.holds_to_blink = true; }},
    {"HOLDS TO NEXT BLINK", [](Finding& f) { f.holds_to_blink = true; }},
    {"DOES NOT HOLD", [](Finding& f) { f.holds_to_blink = false; }},
    {"NOT HELD", [](Finding& f) { f.holds_to_blink = false; }},
    {"CHIN UP", [](Finding& f) { f.head_posture = "chin up"; }},
    {"CHIN DOWN", [](Finding& f) { f.head_posture = "chin down"; }},
    {"NO AHP", [](Finding& f) { f.head_posture = "straight"; }},
    {"HEAD STRAIGHT", [](Finding& f) { f.head_posture = "straight"; }},
    {"LETTERS", [](Finding& f) { f.target = "letters"; }},
    {"LETTER", [](Finding& f) { f.target = "letter"; }},
    {"SINGLE LETTER", [](Finding& f) { f.target = "letter"; }},
    {"PICTURE", [](Finding& f) { f.target = "picture"; }},
    {"SPOT", [](Finding& f) { f.target = "spot"; }},
    {"LIGHT", [](Finding& f) { f.target = "spot"; }},
    {"OM FULL",
     [](Finding& f) {
       f.falls_short = {SeenWay::none, SeenWay::none};
     }},
    {"BE FULL",
     [](Finding& f) {
       f.falls_short = {SeenWay::none, SeenWay::none};
     }},
    {"FULL",
     [](Finding& f) {
       f.falls_short = {SeenWay::none, SeenWay::none};
     }},
    {"BE STILL ON COVER",
     [](Finding& f) {
       f.on_cover = {SeenWay::none, SeenWay::none};
     }},
    {"BE STILL ON UNCOVER",
     [](Finding& f) {
       f.on_uncover = {SeenWay::none, SeenWay::none};
     }},
};

// ----------------------------------------------------------------------- phrases put together

using Phrased = std::span<const std::string>;

// "UP R GAZE", "GAZE UP", "LOOKING DOWN LEFT".
bool say_gaze(Phrased words, Finding& f) {
  if (words.size() < 2) return false;
  const auto is_gaze = [](std::string_view w) { return w == "GAZE" || w == "LOOKING"; };
  if (is_gaze(words.front())) {
    words = words.subspan(1);
  } else if (is_gaze(words.back())) {
    words = words.first(words.size() - 1);
  } else {
    return false;
  }
  int across = 0;
  int up = 0;
  for (const std::string& w : words) {
    const int side = w.size() == 2 ? 0 : read_side(w);  // RE is an eye
    if (side != 0 && across == 0) {
      across = side;
    } else if (is_any(w, {"UP", "DOWN"}) && up == 0) {
      up = w == "UP" ? 1 : -1;
    } else {
      return false;
    }
  }
  set_gaze(f, across, up);
  return true;
}

// "TILT R", "R TILT": of the test. "HEAD TILT R", "FACE TURN L": held by the patient.
bool say_tilt(Phrased words, Finding& f) {
  const bool held = !words.empty() && is_any(words.front(), {"HEAD", "FACE", "AHP"});
  if (held) words = words.subspan(1);
  if (words.size() != 2) return false;
  const bool side_last = read_side(words[1]) != 0;
  const int side = read_side(words[side_last ? 1 : 0]);
  const std::string& what = words[side_last ? 0 : 1];
  if (side == 0) return false;
  const char* name = side > 0 ? "right" : "left";
  if (what == "TILT" && !held) {
    f.head_roll_deg = side * kUsualTiltDeg;
    return true;
  }
  if (what == "TILT") f.head_posture = std::string("head tilt ") + name;
  if (what == "TURN") f.head_posture = std::string("face turn ") + name;
  return !f.head_posture.empty();
}

// "FIX R", "RE FIXING".
bool say_fixing(Phrased words, Finding& f) {
  if (words.size() != 2) return false;
  const auto is_fix = [](std::string_view w) { return is_any(w, {"FIX", "FIXING", "FIXES"}); };
  const int side = is_fix(words[0])   ? read_side(words[1])
                   : is_fix(words[1]) ? read_side(words[0])
                                      : 0;
  if (side != 0) f.fixing = to_eye(side);
  return side != 0;
}

std::optional<SeenWay> read_way(std::string_view w) {
  if (is_any(w, {"STILL", "STEADY"})) return SeenWay::none;
  if (w == "IN") return SeenWay::in;
  if (w == "OUT") return SeenWay::out;
  if (w == "UP") return SeenWay::up;
  if (w == "DOWN") return SeenWay::down;
  return std::nullopt;
}

// "RE OUT ON COVER": as the other eye was covered.
bool say_movement(Phrased words, Finding& f) {
  if (words.size() != 4 || words[2] != "ON") return false;
  const int side = read_side(words[0]);
  const auto way = read_way(words[1]);
  const bool uncover = words[3] == "UNCOVER";
  if (side == 0 || !way || (!uncover && words[3] != "COVER")) return false;
  auto& eyes = uncover ? f.on_uncover : f.on_cover;
  (side > 0 ? eyes.right : eyes.left) = *way;
  return true;
}

std::optional<SeenWay> read_duction(std::string_view w) {
  if (is_any(w, {"ABDUCTION", "ABD"})) return SeenWay::out;
  if (is_any(w, {"ADDUCTION", "ADD"})) return SeenWay::in;
  if (is_any(w, {"ELEVATION", "ELEV"})) return SeenWay::up;
  if (is_any(w, {"DEPRESSION", "DEPR"})) return SeenWay::down;
  return std::nullopt;
}

// "RE SHORT OF ABDUCTION", "R ABDUCTION LIMITED", "LE FULL".
bool say_shortfall(Phrased words, Finding& f) {
  int side = 0;
  std::optional<SeenWay> way;
  for (const std::string& w : words) {
    const auto duction = read_duction(w);
    if (read_side(w) != 0 && side == 0) {
      side = read_side(w);
    } else if (duction && !way) {
      way = duction;
    } else if (w == "FULL" && !way) {
      way = SeenWay::none;
    } else if (!is_any(w, {"SHORT", "OF", "LIMITED", "REDUCED", "DEFICIT"})) {
      return false;
    }
  }
  if (side == 0 || !way) return false;
  (side > 0 ? f.falls_short.right : f.falls_short.left) = *way;
  return true;
}

// "RLR U/A", "RLR 2", "LIO O/A": by the muscle, with its grade if it was written.
bool say_muscle(Phrased words, Finding& f) {
  if (words.size() != 2 || words[0].size() != 3) return false;
  const int side = words[0][0] == 'R' ? 1 : words[0][0] == 'L' ? -1 : 0;
  const std::string_view muscle = std::string_view(words[0]).substr(1);
  std::optional<SeenWay> way;
  if (muscle == "LR") way = SeenWay::out;
  if (muscle == "MR") way = SeenWay::in;
  if (is_any(muscle, {"SR", "IO"})) way = SeenWay::up;
  if (is_any(muscle, {"IR", "SO"})) way = SeenWay::down;
  if (side == 0 || !way) return false;
  const std::string& what = words[1];
  const bool graded = what.size() == 1 && what[0] >= '1' && what[0] <= '4';
  if (what == "O/A") {
    f.remark = words[0] + " o/a";
    return true;
  }
  if (what != "U/A" && !graded) return false;
  (side > 0 ? f.falls_short.right : f.falls_short.left) = *way;
  f.remark = words[0] + (graded ? " −" + what : std::string(" u/a"));
  return true;
}

template <class T>
void set_if(std::optional<T>& into, const std::optional<T>& said) {
  if (said) into = said;
}
template <class T>
void set_if(PerEye<std::optional<T>>& into, const PerEye<std::optional<T>>& said) {
  set_if(into.right, said.right);
  set_if(into.left, said.left);
}
void add_text(std::string& into, const std::string& said) {
  if (said.empty() || into.find(said) != std::string::npos) return;
  into += (into.empty() ? "" : ", ") + said;
}

}  // namespace

std::optional<Finding> find_beside(std::string_view phrase) {
  const std::vector<std::string> words = to_words(phrase);
  std::string text;
  for (const std::string& w : words) text += (text.empty() ? "" : " ") + w;
  Finding f;
  for (const Phrase& p : kPhrases) {
    if (p.text != text) continue;
    p.say(f);
    return f;
  }
  for (const auto say : {say_gaze, say_tilt, say_fixing, say_movement, say_shortfall, say_muscle}) {
    if (say(words, f)) return f;
  }
  return std::nullopt;
}

void add_said(Finding& into, const Finding& said) {
  set_if(into.gaze_horizontal_deg, said.gaze_horizontal_deg);
  set_if(into.gaze_vertical_deg, said.gaze_vertical_deg);
  set_if(into.head_roll_deg, said.head_roll_deg);
  set_if(into.fixing, said.fixing);
  set_if(into.confidence, said.confidence);
  set_if(into.on_cover, said.on_cover);
  set_if(into.on_uncover, said.on_uncover);
  set_if(into.falls_short, said.falls_short);
  set_if(into.holds_to_blink, said.holds_to_blink);
  set_if(into.covers_to_break, said.covers_to_break);
  set_if(into.nystagmus, said.nystagmus);
  set_if(into.dvd, said.dvd);
  set_if(into.pattern, said.pattern);
  set_if(into.torsion_deg, said.torsion_deg);
  set_if(into.double_vision, said.double_vision);
  if (!said.target.empty()) into.target = said.target;
  if (!said.not_done.empty()) into.not_done = said.not_done;
  add_text(into.head_posture, said.head_posture);
  add_text(into.remark, said.remark);
}

}  // namespace redress::findings
