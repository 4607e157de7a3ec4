// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Lines of sight from above, the patient at the top so that right stays on the left as in the
// picture. How far a line misses the target is drawn to one scale for both eyes.
#include <algorithm>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "render/screens/debrief/debrief_screen.hpp"
#include "sim/basics/units.hpp"
#include "sim/findings/shorthand.hpp"

namespace redress::screens::debrief {

namespace {

constexpr double kWorthSayingPd = 0.75;
constexpr float kEyeRadius = 17;
constexpr double kMostPerPd = 8;       // units that 1Δ takes at the target, at most
constexpr double kLeavingMmPerS = 30;  // slower, the occluder is being held

double missed_pd(const examine::Moment& moment, Eye eye) {
  return to_prism_dioptres(Degrees{moment.seen.eye[eye].horizontal_deg -
                                   moment.room.appearance[eye].horizontal_deg})
      .value;
}

void draw_head(Ui& ui, const Rect& r, float eyes_y, float half) {
  std::vector<Point> outline;
  const float x = r.centre().x;
  const float top = r.y;
  const float bottom = eyes_y + 30;
  outline.push_back({x - half, top});
  outline.push_back({x + half, top});
  constexpr int kSteps = 16;
  for (int i = 0; i <= kSteps; ++i) {
    const double angle = 3.14159265 * i / kSteps;
    outline.push_back(
        {x + half * static_cast<float>(std::cos(angle)),
         top + (bottom - top) * (0.45F + 0.55F * static_cast<float>(std::sin(angle)))});
  }
  ui.polygon(outline, Token::well);
  ui.polygon({{x - 8, bottom - 2}, {x + 8, bottom - 2}, {x, bottom + 10}}, Token::well);
}

const char* target_word(TargetKind kind) {
  switch (kind) {
    case TargetKind::letters: return "letters";
    case TargetKind::letter: return "letter";
    case TargetKind::picture: return "picture";
    case TargetKind::spot: return "spot of light";
  }
  return "";
}

void draw_occluder(Ui& ui, const Rect& r, float eyes_y, float per_mm, float reach,
                   const DebriefModel& model, double now_ms) {
  const examine::Moment now = model.playback.moment_at(now_ms);
  const OccluderState& o = now.room.occluder;
  if (!o.before_face) return;
  const auto x_at = [&](double mm) { return r.centre().x - per_mm * static_cast<float>(mm); };
  const float half = per_mm * 25;
  const float x = x_at(o.pose.x_mm);
  // Off to the side of the eyes' height it does not stand before them.
  const bool level = std::abs(o.pose.y_mm) < 35;
  const float y = eyes_y + kEyeRadius + 14;
  const Rect bar{x - half, y, 2 * half, 5};
  const Rect shown = calc_overlap(bar, r);
  if (shown.empty()) return;
  ui.fill(shown, level ? Token::ink2 : Token::line, 2);
  const examine::Moment before = model.playback.moment_at(now_ms - 20);
  const double mm = std::hypot(o.pose.x_mm - before.room.occluder.pose.x_mm,
                               o.pose.y_mm - before.room.occluder.pose.y_mm);
  const bool moving = mm / 0.02 > kLeavingMmPerS;
  constexpr float kRoomForMore = 260;
  const char* words = moving && r.w >= kRoomForMore ? "occluder, moving" : "occluder";
  const float width = ui.measure_text(TextStyle::small, words);
  const bool on_left = x < r.centre().x;
  // Beside the line of sight, not across it.
  const float clear = reach + 8;
  const float at = on_left ? std::max(r.x, std::min(x - half, r.centre().x - clear - width))
                           : std::min(r.right() - width, std::max(x, r.centre().x + clear));
  ui.text({at, y + 8}, TextStyle::small, Token::ink2, words);
}

}  // namespace

void draw_sight_lines(Ui& ui, const Rect& r, const DebriefModel& model, const DebriefState& state,
                      bool compact) {
  sheet(ui, r);
  Rect inner = r.inset(compact ? 8 : 14, compact ? 4 : 10);
  if (!compact) {
    ui.text_in(inner.cut_top(20), TextStyle::strong, Token::ink, "Lines of sight, from above");
    ui.text_in(inner.cut_top(20), TextStyle::small, Token::ink2,
               "Patient at the top; deviations to scale");
  }
  const examine::Moment moment = model.playback.moment_at(state.now_ms);
  const float mid = inner.centre().x;
  const float reach = std::min(44.0F, inner.w * 0.16F);
  const float eyes_y = inner.y + (compact ? 24.0F : 44.0F);
  const float per_mm = 2 * reach / static_cast<float>(model.interpupillary_mm);
  draw_head(ui, inner, eyes_y, std::min(reach * 2.2F, inner.w * 0.36F));

  const Point target{mid, inner.bottom() - (compact ? 25.0F : 26.0F)};
  const double room = std::max(20.0, static_cast<double>(inner.w) / 2 - 70);
  const double per_pd = std::min(kMostPerPd, room / std::max(1.0, model.largest_pd));
  ui.push_clip(r);
  for (const Eye eye : kBothEyes) {
    const Token token = eye == Eye::right ? Token::right_eye : Token::left_eye;
    const double missed = missed_pd(moment, eye);
    const Point from{mid - static_cast<float>(side_of(eye)) * reach, eyes_y};
    const Point to{target.x - static_cast<float>(missed * per_pd), target.y};
    if (std::abs(missed) >= kWorthSayingPd) ui.dashes(from, target, token, 1);
    if (moment.seen.eye[eye].lid_open_fraction > 0.5) ui.polyline({from, to}, token, 2);
    ui.disc(from, kEyeRadius, Token::sheet);
    ui.ring(from, kEyeRadius, token, 2);
    ui.text_in({from.x - 12, from.y - 11, 24, 22}, TextStyle::small_strong, token,
               eye == Eye::right ? "R" : "L", Align::centre);
    if (std::abs(missed) >= kWorthSayingPd) {
      const std::string words = findings::write_number(std::round(std::abs(missed))) + "Δ";
      const float width = ui.measure_text(TextStyle::small_strong, words);
      const bool left = to.x < target.x;
      ui.text({left ? to.x - width - 8 : to.x + 8, to.y - 20}, TextStyle::small_strong, token,
              words);
    }
  }
  draw_occluder(ui, inner, eyes_y, per_mm, reach, model, state.now_ms);
  ui.line({target.x - 7, target.y}, {target.x + 7, target.y}, Token::ink, 2);
  ui.line({target.x, target.y - 7}, {target.x, target.y + 7}, Token::ink, 2);
  ui.pop_clip();
  const TargetState& shown = moment.room.target;
  const std::string words =
      fmt::format("{}, {}", target_word(shown.kind),
                  findings::write_distance(std::round(100 * shown.place.distance_m) / 100));
  ui.text_in({inner.x, target.y + 8, inner.w, 18}, TextStyle::small, Token::ink2, words,
             Align::centre);
}

}  // namespace redress::screens::debrief
