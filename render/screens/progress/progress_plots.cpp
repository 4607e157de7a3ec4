// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/screens/parts/plots.hpp"
#include "render/screens/progress/progress.hpp"

namespace redress::screens {

namespace {

// What a trained observer sees: 2Δ is the usual figure, some see 1Δ or less (Ludvigh 1949; Romano &
// von Noorden 1971; Fogt et al. 2000; from memory).
constexpr double kTrainedFromPd = 1;
constexpr double kTrainedToPd = 2;

/// Powers of two that hold all intervals, at least 1 to 4Δ.
struct LogScale {
  int from = 0;
  int to = 2;
  [[nodiscard]] float y_at(const Rect& r, double pd) const {
    const double share = (std::log2(std::max(pd, 1e-3)) - from) / (to - from);
    return r.bottom() - r.h * static_cast<float>(std::clamp(share, 0.0, 1.0));
  }
};

LogScale find_scale(const std::vector<ThresholdPoint>& points) {
  LogScale scale;
  for (const ThresholdPoint& p : points) {
    scale.from = std::min(scale.from, static_cast<int>(std::floor(std::log2(p.low))));
    scale.to = std::max(scale.to, static_cast<int>(std::ceil(std::log2(p.high))));
  }
  return scale;
}

std::string_view words_of(progress::Firmness firmness) {
  switch (firmness) {
    case progress::Firmness::few: return "few chances";
    case progress::Firmness::not_yet: return "not yet";
    case progress::Firmness::firm: return "firm";
  }
  return "";
}

void draw_skill(Ui& ui, Rect row, const progress::Skill& skill) {
  const bool firm = skill.firmness == progress::Firmness::firm;
  ui.text_in(row.cut_right(94), firm ? TextStyle::small_strong : TextStyle::small,
             firm ? Token::good : Token::ink2, words_of(skill.firmness), Align::right);
  const std::string share =
      skill.chances == 0 ? "–" : fmt::format("{:.0f} %", 100 * skill.share.value);
  ui.figures_in(row.cut_right(54), TextStyle::strong, Token::ink, share, Align::right);
  row.cut_right(16);
  Rect line = row.cut_right(std::clamp(row.w * 0.4F, 60.0F, 200.0F));
  row.cut_right(10);
  line = {line.x, line.centre().y - 9, line.w, 18};
  ui.line({line.x, line.centre().y}, {line.right(), line.centre().y}, Token::line);
  if (skill.chances > 0) {
    interval_dot(ui, line, 0, 1,
                 {skill.share.value, skill.share.low, skill.share.high, progress::kFirmShare});
  }
  const bool fits = ui.measure_text(TextStyle::body, skill.words) <= row.w;
  if (fits) {
    ui.text_in(row, TextStyle::body, Token::ink, skill.words);
    return;
  }
  const float height = ui.measure_paragraph(row.w, TextStyle::small, skill.words);
  ui.paragraph({row.x, row.centre().y - height / 2, row.w, height}, TextStyle::small, Token::ink,
               skill.words);
}

}  // namespace

void draw_thresholds(Ui& ui, const Rect& r, const ProgressModel& model) {
  Rect plot = r;
  plot.cut_left(40);
  plot.cut_right(8);
  plot.cut_top(10);
  const Rect months = plot.cut_bottom(26);
  const LogScale scale = find_scale(model.thresholds);
  const Rect band{plot.x, scale.y_at(plot, kTrainedToPd), plot.w,
                  scale.y_at(plot, kTrainedFromPd) - scale.y_at(plot, kTrainedToPd)};
  ui.fill(band, Token::chosen);
  ui.text_in({band.x + 8, band.bottom() - 22, band.w - 8, 20}, TextStyle::small_strong, Token::act,
             "where a trained observer usually is");
  for (int power = scale.from; power <= scale.to; ++power) {
    const double pd = std::exp2(power);
    const float y = scale.y_at(plot, pd);
    ui.line({plot.x, y}, {plot.right(), y}, Token::line);
    ui.text_in({r.x, y - 10, 32, 20}, TextStyle::small, Token::ink2, fmt::format("{:g}Δ", pd),
               Align::right);
  }
  if (model.thresholds.empty()) return;
  // A single day stands in the middle of a month.
  constexpr std::int64_t kAroundS = 15 * 86'400;
  const std::int64_t from = std::min(model.thresholds.front().at_s, model.months.front().at_s);
  const std::int64_t to = model.thresholds.back().at_s + kAroundS;
  const auto x_at = [&](std::int64_t at_s) {
    return plot.x + 10 +
           (plot.w - 20) * static_cast<float>(at_s - from) / static_cast<float>(to - from);
  };
  float free_from = 0;
  for (const MonthTick& month : model.months) {
    const float x = x_at(std::max(month.at_s, from));
    const float width = ui.measure_text(TextStyle::small, month.words);
    if (x < free_from || x + width > plot.right()) continue;
    ui.text({x, months.y + 6}, TextStyle::small, Token::ink2, month.words);
    free_from = x + width + 12;
  }
  std::vector<Point> line;
  for (const ThresholdPoint& p : model.thresholds) {
    const float x = x_at(p.at_s);
    line.push_back({x, scale.y_at(plot, p.pd)});
    ui.line({x, scale.y_at(plot, p.low)}, {x, scale.y_at(plot, p.high)}, Token::ink2, 3);
  }
  if (line.size() > 1) ui.polyline(line, Token::ink2, 1.5F);
  for (const Point& p : line) ui.disc(p, 5, Token::act);
}

void draw_sizes(Ui& ui, const Rect& r, const ProgressModel& model) {
  Rect plot = r;
  plot.cut_left(30);
  plot.cut_top(20);
  plot.cut_right(10);
  Rect below = plot.cut_bottom(44);
  constexpr double kMost = 20;
  const auto at = [&](double across, double up) {
    return Point{plot.x + plot.w * static_cast<float>(std::clamp(across, 0.0, kMost) / kMost),
                 plot.bottom() - plot.h * static_cast<float>(std::clamp(up, 0.0, kMost) / kMost)};
  };
  for (int pd = 0; pd <= static_cast<int>(kMost); pd += 5) {
    const float y = at(0, pd).y;
    const float x = at(pd, 0).x;
    ui.line({plot.x, y}, {plot.right(), y}, Token::line);
    ui.text_in({r.x, y - 10, 24, 20}, TextStyle::small, Token::ink2, fmt::format("{}", pd),
               Align::right);
    ui.text_in({x - 14, below.y + 2, 28, 18}, TextStyle::small, Token::ink2, fmt::format("{}", pd),
               Align::centre);
  }
  ui.text_in({plot.x, below.y + 22, plot.w, 18}, TextStyle::small, Token::ink2,
             "true, Δ (across); said, Δ (up)");
  ui.push_clip(plot);
  ui.dashes(at(0, 0), at(kMost, kMost), Token::ink3);
  for (const progress::Judged& each : model.answers) {
    ui.ring(at(each.true_pd, each.said_pd), 3, Token::act, 1.5F);
  }
  if (model.agreement) {
    const auto said = [&](double size) { return size + model.agreement->calc_excess(size); };
    ui.polyline({at(0.5, said(0.5)), at(19.5, said(19.5))}, Token::act, 2.5F);
  }
  ui.pop_clip();
  ui.text_in({plot.right() - 66, plot.y - 20, 66, 18}, TextStyle::small, Token::ink2, "just right",
             Align::right);
}

void draw_skills(Ui& ui, const Rect& r, const ProgressModel& model, bool one_column) {
  const std::size_t columns = one_column ? 1 : 2;
  const float gap = 32;
  const float width = (r.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const std::size_t rows = (progress::kShownSkills + columns - 1) / columns;
  const float height = r.h / static_cast<float>(rows);
  for (std::size_t i = 0; i < progress::kShownSkills && i < model.skills.size(); ++i) {
    // In pairs, as they are listed: left, right, next row.
    const float x = r.x + (width + gap) * static_cast<float>(i % columns);
    const Rect row{x, r.y + height * static_cast<float>(i / columns), width, height};
    draw_skill(ui, row, model.skills[i]);
    ui.line({row.x, row.bottom()}, {row.right(), row.bottom()}, Token::line);
  }
}

}  // namespace redress::screens
