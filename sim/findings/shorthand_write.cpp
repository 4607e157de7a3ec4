// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Writing: shorthand in two traditions, and plain words.
#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/findings/shorthand.hpp"

namespace redress::findings {

using elementary::magnitude;

namespace {

constexpr double kNearM = 1.0;  // at this distance and nearer a symbol is written with a prime

bool is_near(const Finding& f) { return f.distance_m && *f.distance_m <= kNearM; }
bool is_some(const std::optional<double>& pd) { return pd && *pd != 0.0; }

class Line {
 public:
  explicit Line(std::string_view between) : between_(between) {}
  Line& add(std::string_view part) {
    if (part.empty()) return *this;
    if (!text_.empty()) text_ += between_;
    text_ += part;
    return *this;
  }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::string_view between_;
  std::string text_;
};

std::string quote(const std::string& text) { return text.empty() ? "" : "“" + text + "”"; }

const char* grade_word(RecoveryGrade grade) {
  switch (grade) {
    case RecoveryGrade::rapid: return "rapid";
    case RecoveryGrade::moderate: return "moderate";
    case RecoveryGrade::slow: return "slow";
    case RecoveryGrade::none: return "none";
  }
  return "";
}

const char* eye_word(FindingEye eye) {
  switch (eye) {
    case FindingEye::right: return "right";
    case FindingEye::left: return "left";
    case FindingEye::alternating: return "alternating";
    case FindingEye::both: return "both";
  }
  return "";
}

std::string or_x(std::optional<double> value) { return value ? write_number(*value) : "x"; }

// ---------------------------------------------------------------------------------- deviations

const char* eye_mark(const Finding& f, Tradition tradition) {
  if (!f.eye) return "";
  switch (*f.eye) {
    case FindingEye::right: return "R";
    case FindingEye::left: return "L";
    case FindingEye::alternating: return tradition != Tradition::us ? "ALT " : "A";
    case FindingEye::both: return "";
  }
  return "";
}

std::string horizontal_mark(const Finding& f, Tradition tradition) {
  const bool eso = *f.horizontal_pd > 0.0;
  if (f.kind == FindingKind::phoria) {
    return tradition != Tradition::us ? (eso ? "SOP" : "XOP") : (eso ? "E" : "X");
  }
  const bool brackets = f.constancy == Constancy::intermittent;
  if (tradition == Tradition::hospital) {
    const char* eye = f.eye == FindingEye::alternating ? "A" : eye_mark(f, tradition);
    return std::string(brackets ? "int " : "") + eye + (eso ? "CS" : "DS");
  }
  const char* stem = tradition == Tradition::uk ? (eso ? "SO" : "XO") : (eso ? "E" : "X");
  return std::string(eye_mark(f, tradition)) + stem + (brackets ? "(T)" : "T");
}

std::string vertical_mark(const Finding& f, Tradition tradition) {
  const bool right_higher = *f.vertical_pd > 0.0;
  const std::string over = right_higher ? "R/L" : "L/R";
  if (f.kind == FindingKind::phoria) {
    return tradition != Tradition::us ? over : right_higher ? "RH" : "LH";
  }
  if (is_some(f.horizontal_pd)) return over;  // the tropia stands before it
  const char* t = f.constancy == Constancy::intermittent ? "(T)" : "T";
  if (f.eye != FindingEye::right && f.eye != FindingEye::left) {
    return (f.eye == FindingEye::alternating ? "ALT " : "") + over + t;
  }
  const bool higher = right_higher == (f.eye == FindingEye::right);
  const char* stem = higher ? (tradition != Tradition::us ? "Hyper" : "H") : "Hypo";
  return std::string(eye_mark(f, tradition)) + stem + t;
}

std::string sized(double pd, Tradition tradition, bool with_unit = false) {
  return write_number(magnitude(pd)) + (with_unit || tradition != Tradition::us ? "Δ" : "");
}

// A size without a class: the prism that neutralises it.
void add_bases(const Finding& f, Tradition tradition, Line& line) {
  const char* prime = is_near(f) ? "′" : "";
  if (is_some(f.horizontal_pd)) {
    line.add(sized(*f.horizontal_pd, tradition, true) + (*f.horizontal_pd > 0.0 ? " BO" : " BI") +
             prime);
  }
  if (is_some(f.vertical_pd)) {
    line.add(sized(*f.vertical_pd, tradition, true) + " BD" + prime +
             (*f.vertical_pd > 0.0 ? " R" : " L"));
  }
  if (!is_some(f.horizontal_pd) && !is_some(f.vertical_pd) && (f.horizontal_pd || f.vertical_pd)) {
    line.add("0Δ BI");
  }
}

void add_deviation(const Finding& f, Tradition tradition, Line& line) {
  const char* prime = is_near(f) ? "′" : "";
  if (!f.kind) {
    add_bases(f, tradition, line);
    return;
  }
  if (*f.kind == FindingKind::none) {
    line.add(std::string(tradition != Tradition::us ? "NMD" : "ortho") + prime);
    return;
  }
  if (is_some(f.horizontal_pd)) {
    line.add(sized(*f.horizontal_pd, tradition) + " " + horizontal_mark(f, tradition) + prime);
  }
  if (is_some(f.vertical_pd)) {
    line.add(sized(*f.vertical_pd, tradition) + " " + vertical_mark(f, tradition) + prime);
  }
  if (is_some(f.horizontal_pd) || is_some(f.vertical_pd)) return;
  // A class without a direction has no symbol of its own.
  line.add(*f.kind == FindingKind::phoria ? "phoria"
                                          : std::string(eye_mark(f, tradition)) + "tropia");
}

std::string recovery_mark(RecoveryGrade grade) {
  switch (grade) {
    case RecoveryGrade::rapid: return "rapid rec";
    case RecoveryGrade::moderate: return "mod rec";
    case RecoveryGrade::slow: return "slow rec";
    case RecoveryGrade::none: return "no rec";
  }
  return "";
}

std::string response_mark(FourDioptreResponse response) {
  switch (response) {
    case FourDioptreResponse::typical: return "normal";
    case FourDioptreResponse::no_movement: return "no movement";
    case FourDioptreResponse::version_without_return: return "no refixation";
  }
  return "";
}

const char* method_mark(SizeMethod method) {
  switch (method) {
    case SizeMethod::estimated: return "est";
    case SizeMethod::measured: return "measured";
    case SizeMethod::simultaneous: return "SPCT";
    case SizeMethod::krimsky: return "Krimsky";
    case SizeMethod::hirschberg: return "Hirschberg";
  }
  return "";
}

// "25R 10U": right and up as the patient looks; "tilt R 30".
std::string position_mark(const Finding& f) {
  Line line(" ");
  const auto add = [&](std::optional<double> deg, const char* plus, const char* minus) {
    if (!is_some(deg)) return;
    line.add(write_number(magnitude(*deg)) + (*deg > 0.0 ? plus : minus));
  };
  add(f.gaze_horizontal_deg, "R", "L");
  add(f.gaze_vertical_deg, "U", "D");
  if (is_some(f.head_roll_deg)) {
    line.add(std::string("tilt ") + (*f.head_roll_deg > 0.0 ? "R " : "L ") +
             write_number(magnitude(*f.head_roll_deg)));
  }
  return line.text().empty() ? "ahead" : line.text();
}

const char* way_word(SeenWay way) {
  switch (way) {
    case SeenWay::none: return "full";
    case SeenWay::in: return "short of adduction";
    case SeenWay::out: return "short of abduction";
    case SeenWay::up: return "short of elevation";
    case SeenWay::down: return "short of depression";
  }
  return "";
}

std::string motility_mark(const Finding& f) {
  Line line(", ");
  if (f.falls_short.right) line.add(std::string("RE ") + way_word(*f.falls_short.right));
  if (f.falls_short.left) line.add(std::string("LE ") + way_word(*f.falls_short.left));
  return line.text();
}

void add_covers(const Finding& f, Tradition tradition, Line& line) {
  const bool at_once = f.method == SizeMethod::simultaneous;
  if (f.test == FindingTest::prism_cover) {
    line.add(at_once ? "SPCT" : tradition != Tradition::us ? "PCT" : "APCT");
  }
  add_deviation(f, tradition, line);
  const SizeMethod usual =
      f.test == FindingTest::prism_cover ? SizeMethod::measured : SizeMethod::estimated;
  if (f.method && *f.method != usual && !at_once) line.add(method_mark(*f.method));
  if (f.recovery) line.add(recovery_mark(*f.recovery));
}

std::string base_mark(const std::string& base) {
  return base == "in" ? "BI" : base == "out" ? "BO" : base == "up" ? "BU" : "BD";
}

}  // namespace

std::string write_number(double value) {
  std::string text = fmt::format("{:.2f}", value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string write_distance(double distance_m) {
  return distance_m < kNearM ? write_number(100.0 * distance_m) + " cm"
                             : write_number(distance_m) + " m";
}

std::string write_shorthand_bare(const Finding& f, Tradition tradition) {
  Line line(" ");
  const char* prime = is_near(f) ? "′" : "";
  switch (f.test) {
    case FindingTest::cover_test:
    case FindingTest::prism_cover: add_covers(f, tradition, line); break;
    case FindingTest::four_dioptre:
      line.add("4Δ BO");
      if (f.eye) line.add(*f.eye == FindingEye::both ? "BE" : eye_mark(f, tradition));
      if (f.response) line.add(response_mark(*f.response));
      break;
    case FindingTest::near_point:
      line.add("NPC " + or_x(f.break_value) +
               (f.recovery_value ? "/" + write_number(*f.recovery_value) : "") + " cm");
      break;
    case FindingTest::reserves:
      line.add("PFR").add(base_mark(f.base) + prime);
      line.add(or_x(f.blur_value) + "/" + or_x(f.break_value) + "/" + or_x(f.recovery_value));
      break;
    case FindingTest::ac_a: line.add("AC/A " + or_x(f.ac_a_pd_per_d)); break;
    case FindingTest::gaze:
      line.add(position_mark(f));
      add_deviation(f, tradition, line);
      break;
    case FindingTest::control:
      line.add("control " + (f.control ? std::to_string(*f.control) : std::string("x")) + prime);
      break;
    case FindingTest::reflexes:
      line.add(method_mark(f.method.value_or(SizeMethod::hirschberg)));
      add_deviation(f, tradition, line);
      break;
    case FindingTest::motility: line.add("OM " + motility_mark(f)); break;
    case FindingTest::impression: return f.diagnosis;
    case FindingTest::plan: return f.advice;
  }
  if (f.comitant) line.add(*f.comitant ? "comitant" : "incomitant");
  return line.add(quote(f.remark)).text();
}

std::string write_shorthand(const Finding& f, Tradition tradition) {
  if (f.test == FindingTest::impression || f.test == FindingTest::plan) {
    return write_shorthand_bare(f, tradition);
  }
  Line line(" ");
  if (f.distance_m) line.add(write_distance(*f.distance_m));
  if (f.spectacles) line.add(*f.spectacles ? "cc" : "sc");
  return line.add(write_shorthand_bare(f, tradition)).text();
}

std::string write_shorthand(std::span<const WrittenFinding> entries, Tradition tradition) {
  constexpr std::string_view kApart = "   ";
  std::string line;
  const WrittenFinding* before = nullptr;
  std::optional<bool> spectacles;  // said once, until it changes
  for (const WrittenFinding& entry : entries) {
    const Finding& f = entry.finding;
    if (f.test == FindingTest::impression || f.test == FindingTest::plan) continue;
    const bool together = before != nullptr && f.test == FindingTest::cover_test &&
                          before->finding.test == f.test &&
                          before->finding.spectacles == f.spectacles;
    if (!line.empty()) line += together ? std::string_view(", ") : kApart;
    Line part(" ");
    if (f.test == FindingTest::cover_test && !together) part.add("CT");
    if (f.spectacles && f.spectacles != spectacles) part.add(*f.spectacles ? "cc" : "sc");
    if (f.spectacles) spectacles = f.spectacles;
    // 6 m and the prime's near need no number.
    if (f.distance_m && *f.distance_m > kNearM && *f.distance_m != 6.0) {
      part.add(write_distance(*f.distance_m));
    }
    line += part.add(write_shorthand_bare(f, tradition)).text();
    before = &entry;
  }
  return line;
}

// --------------------------------------------------------------------------------------- words

namespace {

std::string vertical_words(const Finding& f) {
  const bool right_higher = *f.vertical_pd > 0.0;
  const std::string size = " " + write_number(magnitude(*f.vertical_pd)) + "Δ";
  if (f.kind == FindingKind::phoria) {
    return (right_higher ? "right hyperphoria" : "left hyperphoria") + size;
  }
  const bool one_eye = f.eye == FindingEye::right || f.eye == FindingEye::left;
  if (f.kind == FindingKind::tropia && one_eye && !is_some(f.horizontal_pd)) {
    const bool higher = right_higher == (f.eye == FindingEye::right);
    return std::string(eye_word(*f.eye)) + (higher ? " hypertropia" : " hypotropia") + size;
  }
  return (right_higher ? "right over left" : "left over right") + size;
}

std::string horizontal_words(const Finding& f) {
  const std::string way = *f.horizontal_pd > 0.0 ? "eso" : "exo";
  std::string text;
  if (f.kind == FindingKind::tropia && f.eye && *f.eye != FindingEye::both) {
    text = std::string(eye_word(*f.eye)) + " ";
  }
  text += way;
  if (f.kind == FindingKind::phoria) text += "phoria";
  if (f.kind == FindingKind::tropia) text += "tropia";
  return text + " " + write_number(magnitude(*f.horizontal_pd)) + "Δ";
}

std::string deviation_words(const Finding& f) {
  if (f.kind == FindingKind::none) return "no movement seen";
  std::string text;
  if (f.kind == FindingKind::tropia && f.constancy) {
    text = *f.constancy == Constancy::intermittent ? "intermittent " : "constant ";
  }
  if (is_some(f.horizontal_pd)) text += horizontal_words(f);
  if (is_some(f.vertical_pd)) {
    text += (is_some(f.horizontal_pd) ? " and " : "") + vertical_words(f);
  }
  if (is_some(f.horizontal_pd) || is_some(f.vertical_pd)) return text;
  if (!f.kind) return f.horizontal_pd || f.vertical_pd ? "neutral without a prism" : "";
  if (f.kind == FindingKind::phoria) return "phoria";
  return text + (f.eye ? std::string(eye_word(*f.eye)) + " " : "") + "tropia";
}

std::string response_words(FourDioptreResponse response) {
  switch (response) {
    case FourDioptreResponse::typical: return "typical";
    case FourDioptreResponse::no_movement: return "no movement of either eye";
    case FourDioptreResponse::version_without_return: return "the fellow eye stayed out";
  }
  return "";
}

void add_value(Line& line, const char* name, std::optional<double> value, const char* unit) {
  if (value) line.add(fmt::format("{} {}{}", name, write_number(*value), unit));
}

const char* urgency_words(Urgency urgency) {
  switch (urgency) {
    case Urgency::same_day: return "same day";
    case Urgency::urgent: return "urgent";
    case Urgency::soon: return "soon";
    case Urgency::routine: return "routine";
  }
  return "";
}

}  // namespace

std::string write_words_bare(const Finding& f) {
  Line line(", ");
  switch (f.test) {
    case FindingTest::cover_test:
    case FindingTest::prism_cover: {
      const SizeMethod method = f.method.value_or(
          f.test == FindingTest::prism_cover ? SizeMethod::measured : SizeMethod::estimated);
      line.add(deviation_words(f));
      if (method == SizeMethod::measured) line.add("measured");
      if (method == SizeMethod::simultaneous) line.add("measured with prism and cover at once");
      break;
    }
    case FindingTest::four_dioptre:
      line.add("four-dioptre base-out test");
      if (f.eye)
        line.add(std::string(eye_word(*f.eye)) + (*f.eye == FindingEye::both ? " eyes" : " eye"));
      if (f.response) line.add(response_words(*f.response));
      break;
    case FindingTest::near_point:
      line.add("near point of convergence");
      add_value(line, "break", f.break_value, " cm");
      add_value(line, "recovery", f.recovery_value, " cm");
      break;
    case FindingTest::reserves:
      line.add("reserves base " + f.base);
      add_value(line, "blur", f.blur_value, "Δ");
      add_value(line, "break", f.break_value, "Δ");
      add_value(line, "recovery", f.recovery_value, "Δ");
      break;
    case FindingTest::ac_a: add_value(line, "AC/A", f.ac_a_pd_per_d, "Δ per dioptre"); break;
    case FindingTest::gaze:
      line.add("looking " + position_mark(f));
      line.add(deviation_words(f));
      break;
    case FindingTest::control:
      if (f.control) line.add("control score " + std::to_string(*f.control) + " of 5");
      break;
    case FindingTest::reflexes:
      line.add(f.method == SizeMethod::krimsky ? "corneal reflexes, with prism"
                                               : "corneal reflexes");
      line.add(deviation_words(f));
      break;
    case FindingTest::motility: line.add("eye movements").add(motility_mark(f)); break;
    case FindingTest::impression: line.add(f.diagnosis); break;
    case FindingTest::plan: line.add(f.advice); break;
  }
  if (f.recovery) line.add(std::string("recovery ") + grade_word(*f.recovery));
  if (f.comitant) line.add(*f.comitant ? "comitant" : "incomitant");
  if (f.urgency) line.add(urgency_words(*f.urgency));
  return line.add(quote(f.remark)).text();
}

std::string write_words(const Finding& f) {
  Line line(", ");
  if (f.distance_m) line.add(write_distance(*f.distance_m));
  if (f.spectacles) line.add(*f.spectacles ? "with correction" : "without correction");
  return line.add(write_words_bare(f)).text();
}

}  // namespace redress::findings
