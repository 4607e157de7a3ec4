// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Reading: words and numbers are gathered into a draft of one entry (shorthand_draft.hpp), which
// becomes findings when the entry ends.
#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/findings/shorthand.hpp"
#include "sim/findings/shorthand_beside.hpp"
#include "sim/findings/shorthand_draft.hpp"
#include "sim/findings/shorthand_tokens.hpp"
#include "sim/findings/shorthand_words.hpp"

namespace redress::findings {

namespace {

constexpr double kMetresPerFoot = 0.3048;
constexpr double kMetresPerInch = 0.0254;

double to_hundredths(double x) {
  return static_cast<double>(static_cast<long long>(x * 100.0 + 0.5)) / 100.0;
}

class Reader {
 public:
  Reader(std::string_view line, const ShorthandContext& context)
      : line_(line), context_(context), tokens_(find_tokens(line)) {}

  ShorthandReading read() {
    while (at_ < tokens_.size()) read_next();
    close();
    std::string words;
    for (const std::string& part : words_) words += (words.empty() ? "" : "; ") + part;
    out_.words = std::move(words);
    out_.distance_m = carried_.distance_m;
    out_.spectacles = carried_.spectacles;
    return std::move(out_);
  }

 private:
  [[nodiscard]] std::optional<Meaning> meaning_at(std::size_t i) const {
    if (i >= tokens_.size() || tokens_[i].kind != TokenKind::word) return std::nullopt;
    return find_meaning(tokens_[i].text);
  }
  [[nodiscard]] bool is_word(std::size_t i, WordKind kind) const {
    const auto m = meaning_at(i);
    return m && m->kind == kind;
  }

  void unread(const Token& t, std::string message) {
    out_.unread.push_back(
        {t.at, t.length, std::string(line_.substr(t.at, t.length)), std::move(message)});
    draft_.faulty = true;
  }
  void unread(const Token& t) {
    std::string message = fmt::format("“{}” is not read.", line_.substr(t.at, t.length));
    const std::vector<std::string> offers = suggest_words(t.text);
    if (offers.size() == 1) message += fmt::format(" Did you mean {}?", offers[0]);
    if (offers.size() > 1) {
      message += fmt::format(" Did you mean {} or {}?", offers[0], offers[1]);
    }
    unread(t, std::move(message));
  }

  void read_next() {
    const Token& t = tokens_[at_];
    switch (t.kind) {
      case TokenKind::next:
        ++at_;
        close();
        return;
      case TokenKind::prime:
        ++at_;
        draft_.near = true;
        return;
      case TokenKind::quote:
        ++at_;
        draft_.add_remark(t.text);
        return;
      case TokenKind::numbers: read_numbers(); return;
      case TokenKind::other:
        ++at_;
        unread(t);
        return;
      case TokenKind::word: read_words(); return;
    }
  }

  struct Phrase {
    Meaning meaning;
    std::size_t count;  // tokens
  };
  // The longest phrase from there that means something.
  [[nodiscard]] std::optional<Phrase> phrase_at(std::size_t first) const {
    for (int count = kLongestPhrase; count > 0; --count) {
      std::string phrase;
      bool all = true;
      for (std::size_t i = first; i < first + static_cast<std::size_t>(count); ++i) {
        all = all && i < tokens_.size() && tokens_[i].kind == TokenKind::word;
        if (!all) break;
        phrase += (phrase.empty() ? "" : " ") + tokens_[i].text;
      }
      const std::optional<Meaning> meaning = all ? find_meaning(phrase) : std::nullopt;
      if (meaning) return Phrase{*meaning, static_cast<std::size_t>(count)};
    }
    return std::nullopt;
  }

  void read_words() {
    const std::size_t first = at_;
    if (read_graded_muscle()) return;
    const std::optional<Phrase> phrase = phrase_at(first);
    if (!phrase) {
      ++at_;
      unread(tokens_[first]);
      return;
    }
    at_ = first + phrase->count;
    Token whole = tokens_[first];
    whole.length = tokens_[at_ - 1].at + tokens_[at_ - 1].length - whole.at;
    take(phrase->meaning, whole);
  }

  // "RLR -2": a muscle and how far it falls short, in the steps of the trade.
  bool read_graded_muscle() {
    if (at_ + 2 >= tokens_.size()) return false;
    const Token& sign = tokens_[at_ + 1];
    const Token& grade = tokens_[at_ + 2];
    const bool minus = sign.kind == TokenKind::other && (sign.text == "-" || sign.text == "−");
    if (!minus || grade.kind != TokenKind::numbers || grade.numbers.size() != 1) return false;
    const std::string steps = write_number(grade.numbers[0].value_or(0.0));
    const std::optional<Finding> said = find_beside(tokens_[at_].text + " " + steps);
    if (!said || !has_shortfall(*said)) return false;
    add_said(draft_.seen, *said);
    at_ += 3;
    return true;
  }

  void take(const Meaning& m, const Token& t) {
    switch (m.kind) {
      case WordKind::deviation:
        if (draft_.has_class(m.vertical)) begin_again();
        draft_.parts.push_back({m, t, draft_.order++, false, {}, {}});
        return;
      case WordKind::none: draft_.none = {m, t}; return;
      case WordKind::test: take_test(m); return;
      case WordKind::base: take_base(m, t); return;
      case WordKind::base_out_range: draft_.range = "out"; return;
      case WordKind::base_in_range: draft_.range = "in"; return;
      case WordKind::distance:
        if (draft_.test != FindingTest::ac_a) draft_.far = true;
        return;
      case WordKind::near: draft_.near = true; return;
      case WordKind::correction: draft_.spectacles = m.yes; return;
      case WordKind::recovery_mark: take_recovery_mark(t); return;
      case WordKind::grade:
        draft_.recovery = m.grade;
        draft_.add_remark(m.remark);
        if (is_word(at_, WordKind::recovery_mark)) ++at_;
        return;
      case WordKind::grade_by_mark: take_grade(m, t); return;
      case WordKind::size_word: draft_.size_word = m; return;
      case WordKind::eye: take_eye(m, t); return;
      case WordKind::beside: take_beside(m.said); return;
      case WordKind::torsion: draft_.torsion = m.sign; return;
      case WordKind::posture: take_quoted(draft_.seen.head_posture, t); return;
      case WordKind::not_done:
        draft_.seen.not_done = m.remark.empty() ? "not done" : m.remark;
        if (at_ < tokens_.size() && tokens_[at_].kind == TokenKind::quote) {
          take_quoted(draft_.seen.not_done, t);
        }
        return;
      case WordKind::constancy: draft_.constancy = {*m.constancy, t}; return;
      case WordKind::method: draft_.method = m.method; return;
      case WordKind::comitance: draft_.comitant = m.yes; return;
      case WordKind::response: draft_.response = {m.response, t}; return;
      case WordKind::to_the_nose:
        draft_.values.emplace_back(0.0);
        draft_.add_remark("to the nose");
        return;
      case WordKind::remark:
        draft_.add_remark(m.remark);
        if (m.yes && is_word(at_, WordKind::recovery_mark)) ++at_;
        return;
      case WordKind::unit_cm:
      case WordKind::filler: return;
      case WordKind::unit_pd:
        if (draft_.test == FindingTest::ac_a) return;
        break;
      default: break;
    }
    unread(t, fmt::format("“{}” stands without a number.", line_.substr(t.at, t.length)));
  }

  // Another gaze after one that has its size begins the next entry.
  void take_beside(const Finding& said) {
    const bool sized = !draft_.parts.empty() || !draft_.sizes.empty() || draft_.none;
    if (has_position(said) && has_position(draft_.seen) && sized) close();
    add_said(draft_.seen, said);
  }

  // Of the near point: the eye that goes out.
  void take_eye(const Meaning& m, const Token& t) {
    if (draft_.test != FindingTest::near_point) {
      draft_.eyes.push_back({*m.eye, t});
      return;
    }
    draft_.seen.eye = m.eye;
    if (at_ < tokens_.size() && tokens_[at_].text == "OUT") ++at_;
  }

  void take_quoted(std::string& into, const Token& word) {
    if (at_ >= tokens_.size() || tokens_[at_].kind != TokenKind::quote) {
      unread(word,
             "Write the head posture in words: head tilt R, face turn L, chin up, or AHP “…”.");
      return;
    }
    into = tokens_[at_++].text;
  }

  void take_test(const Meaning& m) {
    if (draft_.has_content()) close();
    draft_.test = m.test;
    if (m.remark == kSimultaneous) {
      draft_.method = SizeMethod::simultaneous;
    } else {
      draft_.add_remark(m.remark);
    }
  }

  // BO 17/21/11 are reserves, 10Δ BI a prism that neutralises.
  void take_base(const Meaning& m, const Token& t) {
    std::size_t i = at_;
    bool near = false;
    if (i < tokens_.size() && tokens_[i].kind == TokenKind::prime) {
      near = true;
      ++i;
    }
    const bool numbers = i < tokens_.size() && tokens_[i].kind == TokenKind::numbers;
    const bool range = draft_.test == FindingTest::reserves;
    const char* const names[] = {"in", "out", "up", "down"};
    const char* name = names[static_cast<int>(m.base)];
    if (numbers && (range || tokens_[i].numbers.size() > 1)) {
      draft_.near = draft_.near || near;
      draft_.add_reserve(name, tokens_[i].numbers);
      at_ = i + 1;
      if (is_word(at_, WordKind::unit_pd)) ++at_;
      return;
    }
    if (!draft_.list.empty()) {
      draft_.add_reserve(name, draft_.list);
      draft_.list.clear();
      return;
    }
    draft_.parts.push_back({m, t, draft_.order++, true, {}, {}});
  }

  void take_recovery_mark(const Token& t) {
    if (draft_.test == FindingTest::near_point || draft_.test == FindingTest::reserves) return;
    const auto next = meaning_at(at_);
    if (next && (next->kind == WordKind::grade || next->kind == WordKind::grade_by_mark)) {
      draft_.recovery = next->grade;
      ++at_;
      return;
    }
    if (next && next->kind == WordKind::remark && next->yes) return;  // "rec jerky"
    unread(t, "“rec” needs a word: rapid, moderate, slow or none.");
  }

  void take_grade(const Meaning& m, const Token& t) {
    if (is_word(at_, WordKind::recovery_mark)) {
      draft_.recovery = m.grade;
      ++at_;
    } else if (m.size_pd > 0.0) {
      draft_.size_word = m;
    } else if (m.grade == RecoveryGrade::none && t.text != "NO") {
      Meaning none;
      none.kind = WordKind::none;
      draft_.none = {none, t};
    } else {
      unread(t);
    }
  }

  void read_numbers() {
    const Token& t = tokens_[at_++];
    const bool one = t.numbers.size() == 1 && t.numbers[0];
    if (one && read_beside(*t.numbers[0], t)) return;
    const auto unit = meaning_at(at_);
    const WordKind kind = unit ? unit->kind : WordKind::filler;
    const bool prism = kind == WordKind::unit_pd;
    if (prism && draft_.test != FindingTest::ac_a) ++at_;
    const bool of_values =
        draft_.test == FindingTest::near_point || draft_.test == FindingTest::control;
    if (of_values && kind != WordKind::unit_m) {
      if (kind == WordKind::unit_cm) ++at_;
      draft_.values.insert(draft_.values.end(), t.numbers.begin(), t.numbers.end());
    } else if (draft_.test == FindingTest::ac_a && kind != WordKind::unit_m) {
      draft_.values.push_back(t.numbers[0]);
    } else if (one && read_distance(*t.numbers[0], kind)) {
      ++at_;
    } else if (is_fraction(t) && kind == WordKind::unit_m) {
      draft_.distance_m = to_hundredths(*t.numbers[0] / *t.numbers[1]);
      ++at_;
    } else if (draft_.range) {
      draft_.add_reserve(*draft_.range, t.numbers);
      draft_.range.reset();
    } else if (one) {
      draft_.sizes.push_back({*t.numbers[0], t, draft_.order++, prism});
    } else if (is_word(at_, WordKind::base)) {
      draft_.list = t.numbers;
    } else {
      unread(t,
             fmt::format("“{}” is read after NPC, BO or BI only.", line_.substr(t.at, t.length)));
    }
  }

  // "1/3 m"
  static bool is_fraction(const Token& t) {
    return t.numbers.size() == 2 && t.numbers[0] && t.numbers[1] && *t.numbers[1] > 0.0;
  }

  // A number of something that stands beside the size: degrees, covers.
  bool read_beside(double value, const Token& t) {
    const std::optional<Phrase> next = phrase_at(at_);
    const WordKind kind = next ? next->meaning.kind : WordKind::filler;
    if (kind == WordKind::covers || kind == WordKind::covers_to_break) {
      constexpr double kMostCovers = 1000.0;
      const auto whole = static_cast<std::int32_t>(value > kMostCovers ? 0.0 : value);
      if (whole < 1 || static_cast<double>(whole) != value) {
        unread(t, "Covers are counted: a whole number from 1.");
      } else if (kind == WordKind::covers) {
        draft_.add_remark(fmt::format("{} covers", whole));
      } else {
        draft_.seen.covers_to_break = whole;
      }
      at_ += next->count;
      return true;
    }
    const bool degrees = kind == WordKind::unit_deg;
    if (degrees) at_ += next->count;
    const std::optional<Phrase> after = degrees ? phrase_at(at_) : next;
    const bool torsion_next = after && after->meaning.kind == WordKind::torsion;
    const bool bare = kind != WordKind::unit_pd && kind != WordKind::unit_m &&
                      kind != WordKind::unit_cm && kind != WordKind::unit_ft &&
                      kind != WordKind::unit_inch;
    if (draft_.torsion != 0 && (degrees || bare)) {
      draft_.seen.torsion_deg = draft_.torsion * value + 0.0;
      draft_.torsion = 0;
    } else if (degrees && torsion_next) {
      draft_.seen.torsion_deg = after->meaning.sign * value + 0.0;
      at_ += after->count;
    } else if (degrees && has_position(draft_.seen)) {
      turn_gaze(value);
    } else if (degrees) {
      unread(t, fmt::format("{}° of what? Write R gaze {}°, tilt R {}° or excyclo {}°.",
                            write_number(value), write_number(value), write_number(value),
                            write_number(value)));
    } else {
      return false;
    }
    return true;
  }

  // The first angle is of all that is turned, the second of what is turned up or down.
  void turn_gaze(double degrees) {
    const auto turn = [degrees](std::optional<double>& angle) {
      if (angle && *angle != 0.0) angle = *angle > 0.0 ? degrees : -degrees;
    };
    turn(draft_.seen.gaze_vertical_deg);
    if (draft_.angles++ > 0) return;
    turn(draft_.seen.gaze_horizontal_deg);
    if (!draft_.seen.gaze_horizontal_deg) turn(draft_.seen.head_roll_deg);
  }

  bool read_distance(double value, WordKind unit) {
    switch (unit) {
      case WordKind::unit_m: draft_.distance_m = value; return true;
      case WordKind::unit_cm: draft_.distance_m = value / 100.0; return true;
      case WordKind::unit_ft:
        // 20 ft is the name of 6 m on American charts.
        draft_.distance_m = value == 20.0 ? 6.0 : to_hundredths(value * kMetresPerFoot);
        return true;
      case WordKind::unit_inch:
        draft_.distance_m = to_hundredths(value * kMetresPerInch);
        return true;
      default: return false;
    }
  }

  // A second class on the same axis: a size that waits before it is its own.
  void begin_again() {
    std::optional<SizedNumber> waiting;
    if (draft_.sizes.size() > draft_.parts.size() &&
        draft_.sizes.back().order + 1 == draft_.order) {
      waiting = draft_.sizes.back();
      draft_.sizes.pop_back();
    }
    close();
    if (waiting) {
      waiting->order = draft_.order++;
      draft_.sizes.push_back(*waiting);
    }
  }

  void close() {
    DraftResult result = finish_draft(draft_, context_, carried_);
    for (UnreadPart& part : result.unread) {
      part.text = std::string(line_.substr(part.at, part.length));
      out_.unread.push_back(std::move(part));
    }
    for (Finding& f : result.findings) {
      words_.push_back(write_words(f));
      out_.findings.push_back(std::move(f));
    }
    if (!result.rest.empty()) words_.push_back(std::move(result.rest));
    for (std::string& hint : result.hints) out_.hints.push_back(std::move(hint));
    carried_ = result.carried;
    draft_ = Draft{};
  }

  std::string_view line_;
  const ShorthandContext& context_;
  std::vector<Token> tokens_;
  std::size_t at_ = 0;
  Draft draft_;
  Carried carried_;
  std::vector<std::string> words_;
  ShorthandReading out_;
};

}  // namespace

ShorthandReading read_shorthand(std::string_view line, const ShorthandContext& context) {
  return Reader(line, context).read();
}

std::string ShorthandReading::message() const {
  constexpr std::size_t kMostTold = 2;
  std::string text;
  if (unread.empty()) {
    if (words.empty()) return "";
    text = "Read as: " + words + ".";
  } else {
    for (std::size_t i = 0; i < unread.size() && i < kMostTold; ++i) {
      text += (i > 0 ? " " : "") + unread[i].message;
    }
    if (!words.empty()) text += " The rest reads: " + words + ".";
  }
  for (const std::string& hint : hints) text += " " + hint;
  return text;
}

}  // namespace redress::findings
