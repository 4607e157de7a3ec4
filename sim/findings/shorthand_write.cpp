// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Writing shorthand, in any of the traditions.
#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/findings/phrases.hpp"
#include "sim/findings/plan_words.hpp"
#include "sim/findings/shorthand.hpp"
#include "sim/findings/shorthand_beside.hpp"

namespace redress::findings {

using elementary::magnitude;

namespace {

constexpr double kNearM = 1.0;  // at this distance and nearer a symbol is written with a prime

bool is_near(const Finding& f) { return f.distance_m && *f.distance_m <= kNearM; }
bool is_some(const std::optional<double>& pd) { return pd && *pd != 0.0; }

std::string quote(const std::string& text) { return text.empty() ? "" : "“" + text + "”"; }

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
    // In a gaze R/L alone says how the eyes stand, not that it is latent.
    const bool in_gaze = f.test == FindingTest::gaze && !is_some(f.horizontal_pd);
    return tradition != Tradition::us && !in_gaze ? over : right_higher ? "RH" : "LH";
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
void add_bases(const Finding& f, Tradition tradition, Phrases& line) {
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

// A size seen in a gaze, or without a class: which way the eyes stand there.
void add_directions(const Finding& f, Tradition tradition, Phrases& line) {
  const char* prime = is_near(f) && f.test != FindingTest::gaze ? "′" : "";
  if (is_some(f.horizontal_pd)) {
    line.add(sized(*f.horizontal_pd, tradition) + (*f.horizontal_pd > 0.0 ? " eso" : " exo") +
             prime);
  }
  if (is_some(f.vertical_pd)) {
    const bool right = *f.vertical_pd > 0.0;
    const char* higher =
        f.test == FindingTest::gaze ? (right ? " R/L" : " L/R") : (right ? " R hyper" : " L hyper");
    line.add(sized(*f.vertical_pd, tradition) + higher + prime);
  }
  const bool zero = f.horizontal_pd || f.vertical_pd;
  if (zero && !is_some(f.horizontal_pd) && !is_some(f.vertical_pd)) line.add("0Δ");
}

void add_deviation(const Finding& f, Tradition tradition, Phrases& line) {
  const char* prime = is_near(f) ? "′" : "";
  const bool by_eye = f.test == FindingTest::cover_test && f.method == SizeMethod::estimated &&
                      (is_some(f.horizontal_pd) || is_some(f.vertical_pd));
  if (!f.kind && (f.test == FindingTest::gaze || by_eye)) {
    add_directions(f, tradition, line);
    return;
  }
  if (!f.kind) {
    add_bases(f, tradition, line);
    return;
  }
  if (*f.kind == FindingKind::none && f.test == FindingTest::reflexes) {
    line.add("central");
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
  const char* int_mark = f.constancy == Constancy::intermittent ? "int " : "";
  line.add(*f.kind == FindingKind::phoria
               ? "phoria"
               : int_mark + std::string(eye_mark(f, tradition)) + "tropia");
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

void add_covers(const Finding& f, Tradition tradition, Phrases& line) {
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
  Phrases line(" ");
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
      if (f.eye == FindingEye::right || f.eye == FindingEye::left) {
        line.add(std::string(eye_mark(f, tradition)) + " out");
      }
      break;
    case FindingTest::reserves:
      line.add("PFR").add(base_mark(f.base) + prime);
      line.add(or_x(f.blur_value) + "/" + or_x(f.break_value) + "/" + or_x(f.recovery_value));
      break;
    case FindingTest::ac_a: line.add("AC/A " + or_x(f.ac_a_pd_per_d)); break;
    case FindingTest::gaze:
      if (f.method == SizeMethod::measured) line.add(tradition != Tradition::us ? "PCT" : "APCT");
      line.add(write_position(f));
      add_deviation(f, tradition, line);
      break;
    case FindingTest::control:
      line.add("control " + (f.control ? std::to_string(*f.control) : std::string("x")) + prime);
      break;
    case FindingTest::reflexes:
      line.add(method_mark(f.method.value_or(SizeMethod::hirschberg)));
      add_deviation(f, tradition, line);
      break;
    case FindingTest::motility: line.add("OM").add(write_shortfall(f)); break;
    case FindingTest::impression: return f.diagnosis;
    case FindingTest::plan: return write_plan(f);
  }
  if (f.comitant) line.add(*f.comitant ? "comitant" : "incomitant");
  return line.add(write_beside(f)).add(quote(f.remark)).text();
}

std::string write_shorthand(const Finding& f, Tradition tradition) {
  if (f.test == FindingTest::impression || f.test == FindingTest::plan) {
    return write_shorthand_bare(f, tradition);
  }
  Phrases line(" ");
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
    Phrases part(" ");
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

}  // namespace redress::findings
