// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Sources by the line: [C] College of Optometrists annex, [A] American usage, both as tabled in the
// clinical pages §9; [B17] practice, B17: daily use; else from memory.
#include "sim/findings/shorthand_words.hpp"

#include <array>

#include "sim/findings/shorthand_beside.hpp"

namespace redress::findings {

namespace {

struct Phrase {
  std::string_view text;
  WordKind kind;
  int value = 0;  // meaning by kind, see make_meaning
  std::string_view remark{};
};

constexpr int as_int(FindingTest t) { return static_cast<int>(t); }
constexpr int as_int(BaseDirection b) { return static_cast<int>(b); }
constexpr int as_int(RecoveryGrade g) { return static_cast<int>(g); }
constexpr int as_int(FindingEye e) { return static_cast<int>(e); }
constexpr int as_int(Constancy c) { return static_cast<int>(c); }
constexpr int as_int(SizeMethod m) { return static_cast<int>(m); }
constexpr int as_int(FourDioptreResponse r) { return static_cast<int>(r); }

constexpr int kOfRecovery = 1;
constexpr int kHorizontal = 1;
constexpr int kVertical = 2;

// Sizes that size words are taken as, prism dioptres. Departments use the words without numbers
// (common practice, no source); the numbers are this program's, and the reader says them.
constexpr int kFlickPd = 2;
constexpr int kMinimalPd = 2;
constexpr int kSlightPd = 4;
constexpr int kModeratePd = 10;
constexpr int kMarkedPd = 20;

constexpr Phrase kPhrases[] = {
    // No movement. NMD, ø: [B17]; ϕ θ ⊕: [C]; ortho: [A].
    {"NMD", WordKind::none},
    {"NMS", WordKind::none},
    {"NO MOVEMENT", WordKind::none},
    {"NO MOVEMENT SEEN", WordKind::none},
    {"NO MOVEMENT DETECTED", WordKind::none},
    {"NO MVT", WordKind::none},
    {"NO SHIFT", WordKind::none},
    {"NO DEVIATION", WordKind::none},
    {"ORTHO", WordKind::none},
    {"ORTHOPHORIA", WordKind::none},
    {"ORTHOPHORIC", WordKind::none},
    {"Ø", WordKind::none},
    {"ϕ", WordKind::none, kHorizontal},
    {"θ", WordKind::none, kVertical},
    {"⊕", WordKind::none, kHorizontal | kVertical},
    // Tests. CT, ACT, APCT, PACT, SPCT, NPC, AC/A: [C], [A]; UCT/ACT, PCT: [B17].
    {"CT", WordKind::test, as_int(FindingTest::cover_test)},
    {"UCT", WordKind::test, as_int(FindingTest::cover_test)},
    {"COVER TEST", WordKind::test, as_int(FindingTest::cover_test)},
    {"UCT/ACT", WordKind::test, as_int(FindingTest::cover_test)},
    {"ACT", WordKind::test, as_int(FindingTest::cover_test), "alternate cover"},
    {"PCT", WordKind::test, as_int(FindingTest::prism_cover)},
    {"PACT", WordKind::test, as_int(FindingTest::prism_cover)},
    {"APCT", WordKind::test, as_int(FindingTest::prism_cover)},
    {"PBCT", WordKind::test, as_int(FindingTest::prism_cover)},
    {"PRISM COVER TEST", WordKind::test, as_int(FindingTest::prism_cover)},
    {"SPCT", WordKind::test, as_int(FindingTest::prism_cover), kSimultaneous},
    {"NPC", WordKind::test, as_int(FindingTest::near_point)},
    {"NEAR POINT", WordKind::test, as_int(FindingTest::near_point)},
    {"TTN", WordKind::to_the_nose},
    {"TO THE NOSE", WordKind::to_the_nose},
    {"PFR", WordKind::test, as_int(FindingTest::reserves)},
    {"RESERVES", WordKind::test, as_int(FindingTest::reserves)},
    {"FUSIONAL RESERVES", WordKind::test, as_int(FindingTest::reserves)},
    {"PFV", WordKind::base_out_range},
    {"NFV", WordKind::base_in_range},
    {"AC/A", WordKind::test, as_int(FindingTest::ac_a)},
    {"CONTROL", WordKind::test, as_int(FindingTest::control)},  // practice §4: named, 0 to 5
    {"CONTROL SCORE", WordKind::test, as_int(FindingTest::control)},
    // Prisms.
    {"BI", WordKind::base, as_int(BaseDirection::in)},
    {"BASE IN", WordKind::base, as_int(BaseDirection::in)},
    {"BO", WordKind::base, as_int(BaseDirection::out)},
    {"BASE OUT", WordKind::base, as_int(BaseDirection::out)},
    {"BU", WordKind::base, as_int(BaseDirection::up)},
    {"BASE UP", WordKind::base, as_int(BaseDirection::up)},
    {"BD", WordKind::base, as_int(BaseDirection::down)},
    {"BASE DOWN", WordKind::base, as_int(BaseDirection::down)},
    {"Δ", WordKind::unit_pd},   // [C], [A]
    {"PD", WordKind::unit_pd},  // [A]
    {"M", WordKind::unit_m},
    {"CM", WordKind::unit_cm},
    {"FT", WordKind::unit_ft},
    {"FEET", WordKind::unit_ft},
    {"INCH", WordKind::unit_inch},
    {"INCHES", WordKind::unit_inch},
    // Distance and correction. sc, cc, N: [C], [A]; gls: [B17].
    {"D", WordKind::distance},
    {"DIST", WordKind::distance},
    {"DISTANCE", WordKind::distance},
    {"N", WordKind::near},
    {"NEAR", WordKind::near},
    {"SC", WordKind::correction, 0},
    {"CC", WordKind::correction, 1},
    {"S̄", WordKind::correction, 0},
    {"C̄", WordKind::correction, 1},
    {"S̄C", WordKind::correction, 0},
    {"C̄C", WordKind::correction, 1},
    {"S̄ GLS", WordKind::correction, 0},
    {"C̄ GLS", WordKind::correction, 1},
    {"S GLS", WordKind::correction, 0},
    {"C GLS", WordKind::correction, 1},
    {"SGLS", WordKind::correction, 0},
    {"CGLS", WordKind::correction, 1},
    {"S̄ RX", WordKind::correction, 0},
    {"C̄ RX", WordKind::correction, 1},
    {"WITH GLS", WordKind::correction, 1},
    {"WITHOUT GLS", WordKind::correction, 0},
    {"WITH RX", WordKind::correction, 1},
    {"WITHOUT RX", WordKind::correction, 0},
    {"WITH CORRECTION", WordKind::correction, 1},
    {"WITHOUT CORRECTION", WordKind::correction, 0},
    {"WITH GLASSES", WordKind::correction, 1},
    {"WITHOUT GLASSES", WordKind::correction, 0},
    {"AIDED", WordKind::correction, 1},
    {"UNAIDED", WordKind::correction, 0},
    // Recovery: rapid, moderate, slow, delayed, none: clinical §9; gd: [B17].
    {"REC", WordKind::recovery_mark},
    {"RECOVERY", WordKind::recovery_mark},
    {"RAPID", WordKind::grade, as_int(RecoveryGrade::rapid)},
    {"QUICK", WordKind::grade, as_int(RecoveryGrade::rapid)},
    {"FAST", WordKind::grade, as_int(RecoveryGrade::rapid)},
    {"MODERATE", WordKind::grade_by_mark, as_int(RecoveryGrade::moderate)},
    {"MOD", WordKind::grade_by_mark, as_int(RecoveryGrade::moderate)},
    {"SLOW", WordKind::grade, as_int(RecoveryGrade::slow)},
    {"DELAYED", WordKind::grade, as_int(RecoveryGrade::slow), "delayed"},
    {"GD", WordKind::grade_by_mark, as_int(RecoveryGrade::rapid)},
    {"GOOD", WordKind::grade_by_mark, as_int(RecoveryGrade::rapid)},
    {"FAIR", WordKind::grade_by_mark, as_int(RecoveryGrade::moderate)},
    {"POOR", WordKind::grade_by_mark, as_int(RecoveryGrade::slow)},
    {"NO", WordKind::grade_by_mark, as_int(RecoveryGrade::none)},
    {"NIL", WordKind::grade_by_mark, as_int(RecoveryGrade::none)},
    {"NONE", WordKind::grade_by_mark, as_int(RecoveryGrade::none)},
    // How the eye came back, kept as it is said: practice, B9.
    {"SMOOTH", WordKind::remark, kOfRecovery, "smooth"},
    {"HESITANT", WordKind::remark, kOfRecovery, "hesitant"},
    {"JERKY", WordKind::remark, kOfRecovery, "jerky"},
    {"STEPWISE", WordKind::remark, kOfRecovery, "stepwise"},
    {"AFTER BLINK", WordKind::remark, kOfRecovery, "after a blink"},
    {"AFTER A BLINK", WordKind::remark, kOfRecovery, "after a blink"},
    {"ON REFIXING", WordKind::remark, kOfRecovery, "on refixing"},
    // Size words: [B17].
    {"FLICK", WordKind::size_word, kFlickPd, "flick"},
    {"MIN", WordKind::size_word, kMinimalPd, "minimal"},
    {"MINIMAL", WordKind::size_word, kMinimalPd, "minimal"},
    {"SL", WordKind::grade_by_mark, as_int(RecoveryGrade::slow)},  // "sl rec": slow
    {"SLIGHT", WordKind::size_word, kSlightPd, "slight"},
    {"MKD", WordKind::size_word, kMarkedPd, "marked"},
    {"MARKED", WordKind::size_word, kMarkedPd, "marked"},
    // Eyes and how constant.
    {"R", WordKind::eye, as_int(FindingEye::right)},
    {"RE", WordKind::eye, as_int(FindingEye::right)},
    {"OD", WordKind::eye, as_int(FindingEye::right)},
    {"RIGHT", WordKind::eye, as_int(FindingEye::right)},
    {"L", WordKind::eye, as_int(FindingEye::left)},
    {"LE", WordKind::eye, as_int(FindingEye::left)},
    {"OS", WordKind::eye, as_int(FindingEye::left)},
    {"LEFT", WordKind::eye, as_int(FindingEye::left)},
    {"A", WordKind::eye, as_int(FindingEye::alternating)},
    {"ALT", WordKind::eye, as_int(FindingEye::alternating)},  // [C]
    {"ALTERNATING", WordKind::eye, as_int(FindingEye::alternating)},
    {"BE", WordKind::eye, as_int(FindingEye::both)},
    {"OU", WordKind::eye, as_int(FindingEye::both)},
    {"BOTH", WordKind::eye, as_int(FindingEye::both)},
    {"R AND L", WordKind::eye, as_int(FindingEye::both)},
    {"INT", WordKind::constancy, as_int(Constancy::intermittent)},
    {"INTERMITTENT", WordKind::constancy, as_int(Constancy::intermittent)},
    {"CONST", WordKind::constancy, as_int(Constancy::constant)},
    {"CONSTANT", WordKind::constancy, as_int(Constancy::constant)},
    {"EST", WordKind::method, as_int(SizeMethod::estimated)},
    {"ESTIMATED", WordKind::method, as_int(SizeMethod::estimated)},
    {"MEASURED", WordKind::method, as_int(SizeMethod::measured)},
    {"KRIMSKY", WordKind::method, as_int(SizeMethod::krimsky)},
    {"HIRSCHBERG", WordKind::method, as_int(SizeMethod::hirschberg)},
    {"COMITANT", WordKind::comitance, 1},
    {"CONCOMITANT", WordKind::comitance, 1},
    {"INCOMITANT", WordKind::comitance, 0},
    // Four-dioptre test.
    {"NORMAL", WordKind::response, as_int(FourDioptreResponse::typical)},
    {"TYPICAL", WordKind::response, as_int(FourDioptreResponse::typical)},
    {"NO REFIXATION", WordKind::response, as_int(FourDioptreResponse::version_without_return)},
    {"NO RETURN", WordKind::response, as_int(FourDioptreResponse::version_without_return)},
    // Kept as remarks. BSV: [C].
    {"BSV", WordKind::remark, 0, "BSV"},
    {"NO BSV", WordKind::remark, 0, "no BSV"},
    // Beside the size; the rest is in shorthand_beside.cpp.
    {"OM", WordKind::test, as_int(FindingTest::motility)},
    {"MOTILITY", WordKind::test, as_int(FindingTest::motility)},
    {"OCULAR MOVEMENTS", WordKind::test, as_int(FindingTest::motility)},
    {"CENTRAL", WordKind::none},
    {"SYMMETRICAL", WordKind::none},
    {"EXCYCLO", WordKind::torsion, 1},
    {"EXCYCLOTORSION", WordKind::torsion, 1},
    {"INCYCLO", WordKind::torsion, -1},
    {"INCYCLOTORSION", WordKind::torsion, -1},
    {"°", WordKind::unit_deg},
    {"DEG", WordKind::unit_deg},
    {"DEGREES", WordKind::unit_deg},
    {"AHP", WordKind::posture},
    {"HEAD POSTURE", WordKind::posture},
    {"NOT DONE", WordKind::not_done},
    {"NOT TESTED", WordKind::not_done},
    {"COULD NOT TEST", WordKind::not_done},
    {"UNCLEAR", WordKind::not_done, 0, "unclear"},
    {"COVERS", WordKind::covers},
    {"COVERS SEEN", WordKind::covers},
    {"COVERS TO BREAK", WordKind::covers_to_break},
    // Say nothing.
    {"WITH", WordKind::filler},
    {"GRADIENT", WordKind::filler},
    {"AND", WordKind::filler},
    {"AT", WordKind::filler},
    {"OF", WordKind::filler},
    {"FOR", WordKind::filler},
    {"BEFORE", WordKind::filler},
    {"OVER", WordKind::filler},
    {"TEST", WordKind::filler},
    {"NEUTRAL", WordKind::filler},
    {"EYE", WordKind::filler},
    {"BLUR", WordKind::filler},
    {"BREAK", WordKind::filler},
};

/// A class of deviation without its eye and constancy.
struct Class {
  std::string_view text;
  bool vertical;
  int sign;
  bool tropia;
  bool intermittent = false;
  std::string_view gloss{};  // what a suggestion says
};

constexpr Class kClasses[] = {
    {"XOP", false, -1, false, false, "exophoria"},  // [C]
    {"SOP", false, 1, false, false, "esophoria"},   // [C]
    {"XOT", false, -1, true, false, "exotropia"},   // [C]
    {"SOT", false, 1, true, false, "esotropia"},    // [C]
    {"XO(T)", false, -1, true, true, "intermittent exotropia"},
    {"SO(T)", false, 1, true, true, "intermittent esotropia"},
    {"X", false, -1, false, false, "exophoria"},                // [A]
    {"E", false, 1, false, false, "esophoria"},                 // [A]
    {"XP", false, -1, false, false, "exophoria"},               // [B17]
    {"EP", false, 1, false, false, "esophoria"},                // [B17]
    {"XT", false, -1, true, false, "exotropia"},                // [A]
    {"ET", false, 1, true, false, "esotropia"},                 // [A]
    {"X(T)", false, -1, true, true, "intermittent exotropia"},  // [A]
    {"E(T)", false, 1, true, true, "intermittent esotropia"},   // [A]
    {"CS", false, 1, true, false, "convergent squint"},         // [B17]
    {"DS", false, -1, true, false, "divergent squint"},         // [B17]
    {"HYPERT", true, 1, true, false, "hypertropia"},            // [C] RHyperT
    {"HYPOT", true, -1, true, false, "hypotropia"},             // [C] RHypoT
    {"HYPER(T)", true, 1, true, true, "intermittent hypertropia"},
    {"HYPO(T)", true, -1, true, true, "intermittent hypotropia"},
    {"HYPERP", true, 1, false, false, "hyperphoria"},
    {"HYPOP", true, -1, false, false, "hypophoria"},
    {"HT", true, 1, true, false, "hypertropia"},  // [A]
    {"H(T)", true, 1, true, true, "intermittent hypertropia"},
    {"H", true, 1, false, false, "hyperphoria"},  // [A]
    {"EXOPHORIA", false, -1, false},
    {"ESOPHORIA", false, 1, false},
    {"EXOTROPIA", false, -1, true},
    {"ESOTROPIA", false, 1, true},
    {"CONVERGENT SQUINT", false, 1, true},
    {"DIVERGENT SQUINT", false, -1, true},
    {"HYPERPHORIA", true, 1, false},
    {"HYPERTROPIA", true, 1, true},
    {"HYPOPHORIA", true, -1, false},
    {"HYPOTROPIA", true, -1, true},
    {"PHORIA", false, 0, false},
    {"TROPIA", false, 0, true},
    {"ESO", false, 1, false},
    {"EXO", false, -1, false},
    {"HYPER", true, 1, false},
    {"HYPO", true, -1, false},
};

const Class* find_class(std::string_view word) {
  for (const Class& c : kClasses) {
    if (c.text == word) return &c;
  }
  return nullptr;
}

Meaning make_meaning(const Phrase& p) {
  Meaning m;
  m.kind = p.kind;
  m.remark = p.remark;
  switch (p.kind) {
    case WordKind::test: m.test = static_cast<FindingTest>(p.value); break;
    case WordKind::base: m.base = static_cast<BaseDirection>(p.value); break;
    case WordKind::grade:
    case WordKind::grade_by_mark: m.grade = static_cast<RecoveryGrade>(p.value); break;
    case WordKind::size_word: m.size_pd = p.value; break;
    case WordKind::eye: m.eye = static_cast<FindingEye>(p.value); break;
    case WordKind::constancy: m.constancy = static_cast<Constancy>(p.value); break;
    case WordKind::method: m.method = static_cast<SizeMethod>(p.value); break;
    case WordKind::response: m.response = static_cast<FourDioptreResponse>(p.value); break;
    case WordKind::torsion: m.sign = p.value; break;
    case WordKind::correction:
    case WordKind::remark:
    case WordKind::comitance: m.yes = p.value != 0; break;
    case WordKind::none:
      m.yes = (p.value & kHorizontal) != 0;
      m.also = (p.value & kVertical) != 0;
      break;
    default: break;
  }
  if (p.text == "MODERATE" || p.text == "MOD") {  // a size unless "rec" stands beside it
    m.size_pd = kModeratePd;
    m.remark = "moderate";
  }
  if (p.text == "SL") {
    m.size_pd = kSlightPd;
    m.remark = "slight";
  }
  return m;
}

Meaning make_meaning(const Class& c, std::optional<FindingEye> eye,
                     std::optional<Constancy> constancy) {
  Meaning m;
  m.kind = WordKind::deviation;
  m.vertical = c.vertical;
  m.sign = c.sign;
  m.tropia = c.tropia;
  m.of_the_eye = c.vertical;
  m.unnamed = c.text == "ESO" || c.text == "EXO" || c.text == "HYPER" || c.text == "HYPO";
  m.eye = eye;
  if (c.tropia) m.constancy = constancy;
  if (c.intermittent) m.constancy = Constancy::intermittent;
  return m;
}

// "R/L" right over left [C]; with T a tropia, with (T) an intermittent one.
std::optional<Meaning> read_over(std::string_view word) {
  if (word.size() < 3 || word[1] != '/') return std::nullopt;
  const std::string_view pair = word.substr(0, 3);
  if (pair != "R/L" && pair != "L/R") return std::nullopt;
  const std::string_view rest = word.substr(3);
  if (!rest.empty() && rest != "T" && rest != "(T)") return std::nullopt;
  Meaning m;
  m.kind = WordKind::deviation;
  m.vertical = true;
  m.sign = pair == "R/L" ? 1 : -1;
  m.tropia = !rest.empty();
  if (rest == "(T)") m.constancy = Constancy::intermittent;
  return m;
}

// [C|I][R|L|A|ALT]class: CRET, IAXT, CLXT [B17]; LSOT [C]; RET [A].
std::optional<Meaning> read_deviation(std::string_view word) {
  if (const auto over = read_over(word)) return over;
  if (const Class* whole = find_class(word)) return make_meaning(*whole, std::nullopt, {});
  std::optional<Constancy> constancy;
  std::string_view rest = word;
  for (int attempt = 0; attempt < 2; ++attempt) {
    std::optional<FindingEye> eye;
    std::string_view after = rest;
    if (after.starts_with("ALT")) {
      eye = FindingEye::alternating;
      after.remove_prefix(3);
    } else if (!after.empty() && (after[0] == 'R' || after[0] == 'L' || after[0] == 'A')) {
      eye = after[0] == 'R'   ? FindingEye::right
            : after[0] == 'L' ? FindingEye::left
                              : FindingEye::alternating;
      after.remove_prefix(1);
    }
    const Class* c = find_class(after);
    // A latent deviation to the side has no eye: RX is a prescription.
    if (c != nullptr && (eye || constancy) && (c->tropia || (c->vertical && !constancy))) {
      return make_meaning(*c, eye, constancy);
    }
    if (attempt > 0 || rest.size() < 3 || (rest[0] != 'C' && rest[0] != 'I')) break;
    constancy = rest[0] == 'C' ? Constancy::constant : Constancy::intermittent;
    rest.remove_prefix(1);
  }
  return std::nullopt;
}

// One letter more, less, another, or two of them changed round.
bool is_one_slip_away(std::string_view a, std::string_view b) {
  if (a.size() > b.size()) return is_one_slip_away(b, a);
  if (b.size() - a.size() > 1) return false;
  std::size_t i = 0;
  while (i < a.size() && a[i] == b[i]) ++i;
  if (a.size() < b.size()) return a.substr(i) == b.substr(i + 1);
  if (i == a.size() || a.substr(i + 1) == b.substr(i + 1)) return true;
  return i + 1 < a.size() && a[i] == b[i + 1] && a[i + 1] == b[i] &&
         a.substr(i + 2) == b.substr(i + 2);
}

struct Suggestion {
  std::string_view text;
  std::string_view shown;
};

// Beside the classes: what is worth offering.
constexpr std::array<Suggestion, 17> kSuggestions{{
    {"NMD", "NMD (no movement detected)"},
    {"NPC", "NPC (near point of convergence)"},
    {"PCT", "PCT (prism cover test)"},
    {"PFR", "PFR (fusional reserves)"},
    {"RSOT", "RSOT (right esotropia)"},
    {"LSOT", "LSOT (left esotropia)"},
    {"RXOT", "RXOT (right exotropia)"},
    {"LXOT", "LXOT (left exotropia)"},
    {"RAPID", "rapid (recovery)"},
    {"SLOW", "slow (recovery)"},
    {"REC", "rec (recovery)"},
    {"AC/A", "AC/A"},
    {"GAZE", "gaze, as in R gaze or up-L gaze"},
    {"TILT", "tilt, as in tilt R"},
    {"EXCYCLO", "excyclo (torsion, in °)"},
    {"NYSTAGMUS", "nystagmus"},
    {"CONTROL", "control (score, 0 to 5)"},
}};

}  // namespace

std::optional<Meaning> find_meaning(std::string_view word) {
  for (const Phrase& p : kPhrases) {
    if (p.text == word) return make_meaning(p);
  }
  if (auto deviation = read_deviation(word)) return deviation;
  const std::optional<Finding> said = find_beside(word);
  if (!said) return std::nullopt;
  Meaning m;
  m.kind = WordKind::beside;
  m.said = *said;
  return m;
}

std::vector<std::string> suggest_words(std::string_view word) {
  constexpr std::size_t kMost = 2;
  std::vector<std::string> found;
  if (word.size() < 2) return found;
  for (const Class& c : kClasses) {
    if (found.size() >= kMost) break;
    if (c.gloss.empty() || c.text.size() < 3 || !is_one_slip_away(word, c.text)) continue;
    found.push_back(std::string(c.text) + " (" + std::string(c.gloss) + ")");
  }
  for (const Suggestion& s : kSuggestions) {
    if (found.size() >= kMost) break;
    if (is_one_slip_away(word, s.text)) found.emplace_back(s.shown);
  }
  return found;
}

}  // namespace redress::findings
