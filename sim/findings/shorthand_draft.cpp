// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/shorthand_draft.hpp"

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/findings/shorthand_beside.hpp"

namespace redress::findings {

namespace {

constexpr double kNearestOfFarM = 1.0;  // a prime says: nearer than this
constexpr double kFourDioptres = 4.0;

class Finisher {
 public:
  Finisher(Draft draft, const ShorthandContext& context, const Carried& carried)
      : d_(std::move(draft)), context_(context) {
    out_.carried = carried;
    has_seen_ = says_something(d_.seen);
    if (d_.distance_m) out_.carried.distance_m = d_.distance_m;
    if (d_.spectacles) out_.carried.spectacles = d_.spectacles;
  }

  DraftResult finish() {
    for (Finding& f : d_.reserves) push(std::move(f));
    if (d_.torsion != 0) out_.hints.push_back("Add the degrees: excyclo 5°.");
    if (has_shortfall(d_.seen)) finish_movements();
    if (d_.test == FindingTest::near_point || d_.test == FindingTest::ac_a ||
        d_.test == FindingTest::control) {
      finish_values();
    } else if (d_.test == FindingTest::motility) {
      if (has_seen_) finish_movements();
    } else if (is_four_dioptre()) {
      finish_four_dioptre();
    } else {
      finish_covers();
    }
    if (out_.findings.empty()) tell_rest();
    return std::move(out_);
  }

 private:
  void unread(const Token& t, std::string message) {
    out_.unread.push_back({t.at, t.length, {}, std::move(message)});
  }

  [[nodiscard]] std::optional<double> find_distance() {
    const std::optional<double> given = out_.carried.distance_m;
    if (d_.distance_m) {
      if (d_.near && *d_.distance_m > kNearestOfFarM) {
        out_.hints.push_back("′ says near; the distance that is written counts.");
      }
      return d_.distance_m;
    }
    if (d_.near) {
      for (const std::optional<double>& m : {given, context_.distance_m}) {
        if (m && *m <= kNearestOfFarM) return m;
      }
      return context_.near_m;
    }
    if (d_.far) return context_.far_m;
    return given ? given : context_.distance_m;
  }

  // Versions and ductions are an entry of their own.
  void finish_movements() {
    Finding f;
    f.test = FindingTest::motility;
    f.falls_short = d_.seen.falls_short;
    d_.seen.falls_short = {};
    const bool alone = d_.parts.empty() && d_.sizes.empty() && !d_.none && !d_.recovery;
    if (!alone && d_.test != FindingTest::motility) {
      f.distance_m = find_distance();
      f.spectacles = out_.carried.spectacles ? out_.carried.spectacles : context_.spectacles;
      out_.findings.push_back(std::move(f));
    } else {
      push(std::move(f));
      d_.seen = {};
      d_.remark.clear();
    }
    has_seen_ = says_something(d_.seen);
  }

  void push(Finding f) {
    add_said(f, d_.seen);
    if (!f.eye) f.eye = d_.seen.eye;
    f.distance_m = find_distance();
    f.spectacles = out_.carried.spectacles ? out_.carried.spectacles : context_.spectacles;
    if (f.remark.empty() || f.remark == d_.seen.remark) {
      f.remark = d_.remark + (d_.remark.empty() || f.remark.empty() ? "" : ", ") + f.remark;
    }
    if (!f.comitant) f.comitant = d_.comitant;
    out_.findings.push_back(std::move(f));
  }

  void tell_rest() {
    const auto add = [this](const std::string& part) {
      out_.rest += (out_.rest.empty() ? "" : ", ") + part;
    };
    if (d_.distance_m) add(write_distance(*d_.distance_m));
    if (d_.spectacles) add(*d_.spectacles ? "with correction" : "without correction");
    if (d_.near) add("near");
    for (const SizedNumber& s : d_.sizes) add(write_number(s.value) + (s.with_unit ? "Δ" : ""));
  }

  void finish_values() {
    Finding f;
    f.test = *d_.test;
    const auto value = [this](std::size_t i) {
      return i < d_.values.size() ? d_.values[i] : std::nullopt;
    };
    if (f.test == FindingTest::ac_a) {
      f.ac_a_pd_per_d = value(0);
    } else if (f.test == FindingTest::control) {
      constexpr double kMost = 5.0;
      const double score = value(0).value_or(-1.0);
      const auto whole = static_cast<std::int32_t>(score);
      if (score >= 0.0 && score <= kMost && static_cast<double>(whole) == score) f.control = whole;
      if (!f.control) out_.hints.push_back("The office control score is a whole number, 0 to 5.");
      if (d_.values.size() == 2 && value(1)) {
        finish_two_scores(f);
        return;
      }
    } else {
      f.break_value = value(0);
      f.recovery_value = value(1);
    }
    if (!d_.values.empty()) push(std::move(f));
  }

  // "control 3/1": distance, near.
  void finish_two_scores(Finding far) {
    Draft near = d_;
    near.values = {d_.values[1]};
    near.near = true;
    near.distance_m.reset();
    d_.far = true;
    d_.distance_m.reset();
    out_.carried.distance_m.reset();
    push(std::move(far));
    std::swap(d_, near);
    finish_values();
  }

  // ------------------------------------------------------------------------- four-dioptre test

  // "4Δ BO" and a response; without a response it is a prism that neutralises.
  [[nodiscard]] bool is_four_dioptre() const {
    const bool prism = d_.sizes.size() == 1 && d_.sizes[0].value == kFourDioptres &&
                       d_.parts.size() == 1 && d_.parts[0].is_base &&
                       d_.parts[0].meaning.base == BaseDirection::out;
    return prism && (d_.response || d_.none || !d_.seen.not_done.empty());
  }

  void finish_four_dioptre() {
    Finding f;
    f.test = FindingTest::four_dioptre;
    if (d_.response) f.response = d_.response->first;
    if (!d_.response && d_.none) f.response = FourDioptreResponse::no_movement;
    for (const auto& [eye, token] : d_.eyes) {
      f.eye = f.eye && *f.eye != eye ? FindingEye::both : eye;
    }
    if (d_.eyes.empty()) {
      out_.hints.push_back("Before which eye was the prism? Add R or L.");
    }
    push(std::move(f));
  }

  // ---------------------------------------------------------------------------------- deviations

  // "2 XP", "R/L 4": what comes first tells whether sizes stand before or after.
  void give_sizes() {
    std::erase_if(d_.sizes, [this](const SizedNumber& s) {
      const bool before = d_.sizes.front().order < (d_.parts.empty() ? 0 : d_.parts[0].order);
      DraftPart* part = before ? find_after(s.order) : find_before(s.order);
      if (part == nullptr) part = before ? find_before(s.order) : find_after(s.order);
      if (part == nullptr) return false;
      part->size_pd = s.value;
      return true;
    });
  }
  DraftPart* find_after(int order) {
    for (DraftPart& p : d_.parts) {
      if (p.order > order && !p.size_pd) return &p;
    }
    return nullptr;
  }
  DraftPart* find_before(int order) {
    for (auto p = d_.parts.rbegin(); p != d_.parts.rend(); ++p) {
      if (p->order < order && !p->size_pd) return &*p;
    }
    return nullptr;
  }

  // An eye by itself belongs to a tropia, a hyperphoria, or to a prism base up or down.
  void give_eyes() {
    for (DraftPart& p : d_.parts) {
      if (!p.is_base) p.eye = p.meaning.eye;
    }
    for (const auto& [eye, token] : d_.eyes) {
      DraftPart* owner = nullptr;
      for (DraftPart& p : d_.parts) {
        const bool wants = p.is_base ? true : p.meaning.tropia || p.meaning.of_the_eye;
        if (!wants || p.eye) continue;
        // The nearest: a base takes the eye after it, a class the eye before it.
        const bool after = token.at > p.token.at;
        if (owner == nullptr || after == p.is_base) owner = &p;
      }
      if (owner != nullptr) {
        owner->eye = eye;
      } else {
        unread(token, "An eye belongs to a tropia or to a prism; a phoria is of both eyes.");
      }
    }
  }

  // + eso, right eye higher; nothing and a message where an eye is wanting.
  std::optional<int> find_sign(const DraftPart& p) {
    const Meaning& m = p.meaning;
    const int side = p.eye == FindingEye::right ? 1 : p.eye == FindingEye::left ? -1 : 0;
    if (!p.is_base) {
      if (!m.of_the_eye) return m.sign;
      if (side != 0) return side * m.sign;
      unread(p.token, m.sign > 0 ? "Which eye is higher? Write RH, LH or R/L, L/R."
                                 : "Which eye is lower? Write R or L before it.");
      return std::nullopt;
    }
    // The base points away from the way in which the eye stands: base in neutralises exo, base
    // down before the right eye a right eye that is higher.
    switch (m.base) {
      case BaseDirection::in: return -1;
      case BaseDirection::out: return 1;
      case BaseDirection::up:
        if (side != 0) return -side;
        break;
      case BaseDirection::down:
        if (side != 0) return side;
        break;
    }
    unread(p.token, fmt::format("Base {} before which eye? Add R or L.",
                                m.base == BaseDirection::up ? "up" : "down"));
    return std::nullopt;
  }

  void add_part(const DraftPart& p, Finding& f) {
    const std::optional<int> sign = find_sign(p);
    if (!sign) return;
    std::optional<double>& size = p.is_vertical() ? f.vertical_pd : f.horizontal_pd;
    const DraftPart* other = nullptr;  // the class and the prism of one axis
    for (const DraftPart& q : d_.parts) {
      if (&q != &p && q.is_vertical() == p.is_vertical()) other = &q;
    }
    const double own = p.size_pd ? *p.size_pd * *sign + 0.0 : 0.0;
    if (p.is_base) {
      if (size && *size * *sign < 0.0) {
        unread(p.token, "This base neutralises the other direction than the one written.");
        return;
      }
      if (p.size_pd) size = own;
    } else if (p.size_pd) {
      size = own;
    } else if (other != nullptr && other->is_base) {
      return;  // the prism says how much
    } else if (*sign != 0 && d_.size_word && !size) {
      size = d_.size_word->size_pd * *sign;
      f.remark = d_.size_word->remark;
      out_.hints.push_back(fmt::format("“{}” is taken as about {}Δ.", d_.size_word->remark,
                                       write_number(d_.size_word->size_pd)));
      d_.size_word.reset();
    } else if (*sign != 0) {
      d_.add_remark(p.is_vertical() ? (*sign > 0 ? "right over left" : "left over right")
                                    : (*sign > 0 ? "eso" : "exo"));
      out_.hints.push_back("Add a size: without one the direction is no more than a remark.");
    }
  }

  // In a gaze "R/L 8" and "18 eso" say how the eyes stand there, not what kind it is.
  [[nodiscard]] bool is_unnamed(const DraftPart& p) const {
    if (p.meaning.unnamed) return true;
    return has_position(d_.seen) && p.meaning.vertical && !p.meaning.of_the_eye &&
           !p.meaning.tropia;
  }

  void add_kind(Finding& f) {
    bool tropia = false;
    bool phoria = false;
    for (const DraftPart& p : d_.parts) {
      if (p.is_base || is_unnamed(p)) continue;
      tropia = tropia || p.meaning.tropia;
      phoria = phoria || !p.meaning.tropia;
    }
    if (tropia) {
      f.kind = FindingKind::tropia;
      f.constancy = d_.constancy ? d_.constancy->first : Constancy::constant;
      for (const DraftPart& p : d_.parts) {
        if (p.is_base || !p.meaning.tropia) continue;
        if (p.meaning.constancy) f.constancy = p.meaning.constancy;
        if (p.eye) f.eye = p.eye;
      }
    } else if (phoria) {
      f.kind = FindingKind::phoria;
      if (d_.constancy) {
        unread(d_.constancy->second,
               "A phoria is neither constant nor intermittent. Brackets say intermittent: X(T).");
      }
    } else if (d_.none) {
      f.kind = FindingKind::none;
      if (d_.none->first.yes) f.horizontal_pd = 0.0;
      if (d_.none->first.also) f.vertical_pd = 0.0;
    }
    const bool one_axis = d_.none && d_.none->first.yes != d_.none->first.also;
    if (d_.none && (tropia || phoria) && !one_axis) {
      unread(d_.none->second, "No movement and a deviation in one entry: put a comma between.");
    }
  }

  void finish_covers() {
    if (d_.response) {
      unread(d_.response->second, "This belongs to the four-dioptre test: 4Δ BO R normal.");
    }
    if (!d_.has_content() || d_.parts.empty()) {
      leave_sizes();
      if (!d_.none && !d_.recovery && d_.remark.empty() && !d_.comitant && !has_seen_) return;
      if (!d_.reserves.empty()) return;
    }
    give_sizes();
    give_eyes();
    Finding f;
    f.test = d_.test.value_or(FindingTest::cover_test);
    const bool gaze = has_position(d_.seen);
    add_kind(f);
    bool prism = f.test == FindingTest::prism_cover;
    for (const bool bases : {false, true}) {
      for (const DraftPart& p : d_.parts) {
        if (p.is_base != bases) continue;
        prism = prism || bases;
        add_part(p, f);
      }
    }
    if (!d_.parts.empty()) leave_sizes();
    if (d_.parts.empty() && gaze && d_.sizes.size() == 1) f.horizontal_pd = 0.0;
    if (prism) f.test = FindingTest::prism_cover;
    if (f.test == FindingTest::reserves) f.test = FindingTest::cover_test;
    if (gaze && !f.kind && !f.horizontal_pd && !f.vertical_pd && d_.seen.not_done.empty()) {
      out_.hints.push_back("Add a size: R gaze 18 eso, tilt R 8 R/L, or NMD.");
    }
    if (gaze) f.test = FindingTest::gaze;
    if (d_.method == SizeMethod::krimsky || d_.method == SizeMethod::hirschberg) {
      f.test = FindingTest::reflexes;
    }
    const bool sized = f.horizontal_pd || f.vertical_pd;
    if (d_.method) {
      f.method = d_.method;
    } else if (sized) {
      f.method = prism ? SizeMethod::measured : SizeMethod::estimated;
    }
    f.recovery = d_.recovery;
    if (d_.size_word) d_.add_remark(d_.size_word->remark);
    if (!f.remark.empty() && !d_.remark.empty()) f.remark += ", ";
    f.remark += d_.remark;
    push(std::move(f));
  }

  // Numbers that are the size of nothing. What was not read may be what they belong to.
  void leave_sizes() {
    if (d_.faulty || !out_.unread.empty()) return;
    if (d_.parts.empty() && d_.sizes.size() == 1 && d_.sizes[0].value == 0.0 &&
        has_position(d_.seen)) {
      return;  // "up gaze 0": nothing to be measured there
    }
    for (const SizedNumber& s : d_.sizes) {
      unread(s.token, fmt::format("{}Δ of what? Write a class beside it: {}Δ XOP.",
                                  write_number(s.value), write_number(s.value)));
    }
  }

  Draft d_;
  const ShorthandContext& context_;
  DraftResult out_;
  bool has_seen_ = false;
};

}  // namespace

bool DraftPart::is_vertical() const {
  return is_base ? meaning.base == BaseDirection::up || meaning.base == BaseDirection::down
                 : meaning.vertical;
}

void Draft::add_remark(std::string_view text) {
  if (text.empty()) return;
  if (!remark.empty()) remark += ", ";
  remark += text;
}

void Draft::add_reserve(std::string_view base, const std::vector<std::optional<double>>& numbers) {
  Finding f;
  f.test = FindingTest::reserves;
  f.base = base;
  const std::size_t n = numbers.size();
  if (n >= 3) f.blur_value = numbers[0];
  f.break_value = numbers[n >= 3 ? 1 : 0];
  if (n >= 2) f.recovery_value = numbers[n >= 3 ? 2 : 1];
  reserves.push_back(std::move(f));
}

bool Draft::has_class(bool vertical) const {
  for (const DraftPart& p : parts) {
    if (!p.is_base && p.meaning.vertical == vertical) return true;
  }
  return false;
}

bool Draft::has_content() const {
  return !parts.empty() || !sizes.empty() || none || !values.empty() || !reserves.empty() ||
         recovery || response || comitant || !remark.empty() || torsion != 0 ||
         says_something(seen);
}

DraftResult finish_draft(const Draft& draft, const ShorthandContext& context,
                         const Carried& carried) {
  return Finisher(draft, context, carried).finish();
}

}  // namespace redress::findings
