// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Entries in plain words: what a line of shorthand was read as.
#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/findings/phrases.hpp"
#include "sim/findings/plan_words.hpp"
#include "sim/findings/recovery.hpp"
#include "sim/findings/shorthand.hpp"
#include "sim/findings/shorthand_beside.hpp"

namespace redress::findings {

using elementary::magnitude;

namespace {

bool is_some(const std::optional<double>& pd) { return pd && *pd != 0.0; }

std::string quote(const std::string& text) { return text.empty() ? "" : "“" + text + "”"; }

const char* eye_word(FindingEye eye) {
  switch (eye) {
    case FindingEye::right: return "right";
    case FindingEye::left: return "left";
    case FindingEye::alternating: return "alternating";
    case FindingEye::both: return "both";
  }
  return "";
}

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
  const bool zero = f.horizontal_pd || f.vertical_pd;
  if (!f.kind && f.test == FindingTest::gaze) return zero ? "straight" : "";
  if (!f.kind) return zero ? "neutral without a prism" : "";
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

void add_value(Phrases& line, const char* name, std::optional<double> value, const char* unit) {
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
  Phrases line(", ");
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
      if (f.eye == FindingEye::right || f.eye == FindingEye::left) {
        line.add(std::string(eye_word(*f.eye)) + " eye goes out");
      }
      break;
    case FindingTest::reserves:
      line.add("reserves base " + f.base);
      add_value(line, "blur", f.blur_value, "Δ");
      add_value(line, "break", f.break_value, "Δ");
      add_value(line, "recovery", f.recovery_value, "Δ");
      break;
    case FindingTest::ac_a: add_value(line, "AC/A", f.ac_a_pd_per_d, "Δ per dioptre"); break;
    case FindingTest::gaze:
      line.add(position_words(f));
      line.add(deviation_words(f));
      break;
    case FindingTest::control:
      if (f.control) line.add("control score " + std::to_string(*f.control) + " of 5");
      break;
    case FindingTest::reflexes:
      line.add(f.method == SizeMethod::krimsky ? "corneal reflexes, with prism"
                                               : "corneal reflexes");
      line.add(f.kind == FindingKind::none ? "central" : deviation_words(f));
      break;
    case FindingTest::motility: line.add("eye movements " + write_shortfall(f)); break;
    case FindingTest::impression: line.add(f.diagnosis); break;
    case FindingTest::plan: line.add(write_plan(f)); break;
  }
  if (f.recovery) line.add(std::string("recovery ") + grade_word(*f.recovery));
  if (f.comitant) line.add(*f.comitant ? "comitant" : "incomitant");
  if (f.urgency) line.add(urgency_words(*f.urgency));
  return line.add(beside_words(f)).add(quote(f.remark)).text();
}

std::string write_words(const Finding& f) {
  Phrases line(", ");
  if (f.distance_m) line.add(write_distance(*f.distance_m));
  if (f.spectacles) line.add(*f.spectacles ? "with correction" : "without correction");
  return line.add(write_words_bare(f)).text();
}

}  // namespace redress::findings
