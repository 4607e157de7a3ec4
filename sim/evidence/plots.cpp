// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/evidence/plots.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/html_text.hpp"
#include "sim/evidence/gazes.hpp"
#include "sim/evidence/row.hpp"
#include "sim/evidence/saccades.hpp"
#include "sim/evidence/svg.hpp"

namespace redress::evidence {

namespace {

constexpr int kBlack = 20;
constexpr int kGrey = 130;
constexpr int kShade = 232;

std::string not_drawn(const std::string& what, const std::string& why) {
  return "<p class=\"none\">" + escape_html(what) + ": not simulated (" + escape_html(why) +
         ").</p>\n";
}

}  // namespace

std::string plot_main_sequence() {
  Svg svg(560, 330, "Main sequence: peak velocity over size of saccades made");
  Axes axes(50, 20, 490, 260);
  axes.set_x(0, 50);
  axes.set_y(0, 600);
  axes.draw(svg, {0, 10, 20, 30, 40, 50}, {0, 100, 200, 300, 400, 500, 600});
  svg.text(295, 320, "size made, degrees", Svg::Anchor::middle);
  svg.text(56, 14, "peak velocity, degrees per second");
  for (const bool vertical : {false, true}) {
    std::vector<std::pair<double, double>> points;
    for (const double size : {1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 40.0}) {
      const SaccadeMade made = make_saccade(size, vertical);
      points.emplace_back(axes.x(made.size_deg), axes.y(made.peak_deg_s));
    }
    svg.curve(points, vertical ? kGrey : kBlack, 1.4, vertical);
    for (const auto& [x, y] : points) svg.dot(x, y, 2.5, vertical ? kGrey : kBlack);
  }
  struct Norm {
    double size, mean, sd;
    bool vertical;
  };
  // Hopf et al. 2018, mean and SD.
  for (const Norm& n : {Norm{5, 213, 29, false}, Norm{15, 352, 50, false}, Norm{30, 455, 67, false},
                        Norm{5, 208, 36, true}, Norm{10, 303, 50, true}, Norm{20, 391, 71, true}}) {
    const double x = axes.x(n.size + (n.vertical ? 0.5 : -0.5));
    const int grey = n.vertical ? kGrey : kBlack;
    svg.line(x, axes.y(n.mean - n.sd), x, axes.y(n.mean + n.sd), grey, 1.2);
    svg.dot(x, axes.y(n.mean), 4, grey, false);
  }
  svg.text(535, 250, "dots, lines: engine (black horizontal, grey vertical)", Svg::Anchor::end);
  svg.text(535, 265, "circles: Hopf et al. 2018, mean and SD", Svg::Anchor::end);
  return svg.finish();
}

namespace {

struct Patient {
  const char* words;
  std::string members;
  Eye covered;
  bool vertical;
};

std::string draw_cover(const Patient& patient) {
  constexpr Tick kUntil = 11000;
  Trace t;
  try {
    t = run_story(patient.members, {cover(1000, patient.covered), uncover(6000)}, kUntil, 1.0, 2);
  } catch (const NotSimulated& reason) {
    return not_drawn(patient.words, reason.why);
  }
  const auto place = [&](Tick k, Eye eye) {
    return patient.vertical ? t.vertical(k, eye) : t.horizontal(k, eye);
  };
  double reach = 2.0;
  for (Tick k = 0; k <= kUntil; ++k) {
    for (const Eye eye : kBothEyes)
      reach = std::max(reach, std::max(place(k, eye), -place(k, eye)));
  }
  const double top = reach > 10.0 ? 20.0 : reach > 5.0 ? 10.0 : reach > 2.5 ? 5.0 : 2.5;
  Svg svg(400, 190, patient.words);
  Axes axes(38, 22, 350, 136);
  axes.set_x(0, 11);
  axes.set_y(-top, top);
  const Tick from = t.covered_after(1000, patient.covered);
  const Tick free = t.free_after(from + 500, patient.covered);
  svg.box(axes.x(0.001 * static_cast<double>(from)), axes.top(),
          axes.x(0.001 * static_cast<double>(free)) - axes.x(0.001 * static_cast<double>(from)),
          axes.bottom() - axes.top(), kShade);
  axes.draw(svg, {0, 2, 4, 6, 8, 10}, {-top, 0, top});
  for (const Eye eye : kBothEyes) {
    std::vector<std::pair<double, double>> points;
    for (Tick k = 0; k <= kUntil; k += 15) {
      points.emplace_back(axes.x(0.001 * static_cast<double>(k)), axes.y(place(k, eye)));
    }
    svg.curve(points, eye == Eye::right ? kBlack : kGrey, 1.3, eye == Eye::left);
  }
  svg.text(38, 13,
           fmt::format("{} ({})", patient.words,
                       patient.vertical ? "vertical, + up" : "horizontal, + right"));
  svg.text(axes.x(0.5 * 0.001 * static_cast<double>(from + free)), axes.bottom() - 5,
           fmt::format("{} eye covered", name_of(patient.covered)), Svg::Anchor::middle);
  svg.text(388, 184, "s; degrees", Svg::Anchor::end);
  return svg.finish();
}

}  // namespace

std::string plot_covers() {
  const std::string suppressed =
      R"(, "fusion": {"present": false}, "sensory": {"preferred_eye": "left", "preference": 1.0,
         "suppression": {"eye": "right", "scotoma_diameter_deg": 3}})";
  const std::vector<Patient> patients{
      {"exophoria of 8", deviation_of(-8, -8), Eye::right, false},
      {"esophoria of 8", deviation_of(8, 8), Eye::right, false},
      {"right hyperphoria of 4",
       R"("deviation": {"distance_pd": 0, "near_pd": -2, "vertical_pd": 4}, "fusion": {
          "vertical": {"right_supra_pd": [6, 4], "right_infra_pd": [6, 4]}})",
       Eye::right, true},
      {"right esotropia of 20, squinting eye covered", deviation_of(20, 20) + suppressed,
       Eye::right, false},
      {"right esotropia of 20, fixing eye covered", deviation_of(20, 20) + suppressed, Eye::left,
       false},
      {"intermittent exotropia of 25",
       deviation_of(-25, -25) + R"(, "fusion": {"release_time_constant_s": 0.6,
          "distance": {"base_out_pd": [null, 10, -5], "base_in_pd": [null, 8, 4]}}, "sensory": {
          "suppression": {"eye": "either", "scotoma_diameter_deg": 5}})",
       Eye::right, false},
      {"alternating exotropia of 20",
       deviation_of(-20, -20) + R"(, "fusion": {"present": false}, "sensory": {"preference": 0.5,
          "suppression": {"eye": "either", "scotoma_diameter_deg": 5}})",
       Eye::right, false},
      {"microtropia of 4, fellow eye covered",
       deviation_of(4, 4) + R"(, "sensory": {"preferred_eye": "left", "preference": 1.0,
          "anomaly_pd": 4, "suppression": {"eye": "right", "scotoma_diameter_deg": 3}})",
       Eye::left, false},
      {"dissociated vertical deviation",
       deviation_of(0, 0) + R"(, "instability": {"dvd_pd": {"right": 10, "left": 6}})", Eye::right,
       true},
      {"latent nystagmus", deviation_of(4, 4) + R"(, "instability": {"latent_nystagmus_deg": 3})",
       Eye::right, false},
      {"right lateral rectus paresis, left eye covered",
       deviation_of(0, 0) +
           R"(, "fusion": {"present": false}, "sensory": {"preferred_eye": "left"}, )" +
           weak("right", "lateral_rectus", 0.5),
       Eye::left, false}};
  std::string html =
      "<p>Right eye black, left eye grey and dashed; noise as usual.</p>\n"
      "<div class=\"panels\">\n";
  for (const Patient& patient : patients) html += draw_cover(patient);
  return html + "</div>\n";
}

namespace {

// Whole prism dioptres with their sign; no sign on nothing.
std::string whole(double pd) {
  const int rounded = static_cast<int>(pd < 0.0 ? pd - 0.5 : pd + 0.5);
  return rounded == 0 ? "0" : fmt::format("{:+}", rounded);
}

void draw_gazes(Svg& svg, double left, const Gazes& gazes, Eye fixing) {
  Axes axes(left, 30, 250, 250);
  axes.set_x(-50, 50);
  axes.set_y(-50, 50);
  axes.draw(svg, {-25, 0, 25}, {-25, 0, 25});
  svg.text(left, 22,
           fmt::format("{} eye fixing: where the {} eye stands", name_of(fixing),
                       name_of(fellow(fixing))));
  for (const GazeAt& gaze : gazes) {
    // Eso turns the other eye towards the nose; a higher right eye lowers the left.
    const double side = side_of(fellow(fixing));
    const double h = gaze.place.horizontal_deg - side * to_deg(gaze.deviation.horizontal_pd);
    const double v = gaze.place.vertical_deg + side * to_deg(gaze.deviation.vertical_pd);
    const double x = axes.x(std::clamp(h, -50.0, 50.0));
    const double y = axes.y(std::clamp(v, -50.0, 50.0));
    svg.dot(axes.x(gaze.place.horizontal_deg), axes.y(gaze.place.vertical_deg), 4, 170, false);
    svg.line(axes.x(gaze.place.horizontal_deg), axes.y(gaze.place.vertical_deg), x, y, 150);
    svg.dot(x, y, 3, kBlack);
    // Below the gaze asked for, where no other number comes.
    svg.text(axes.x(gaze.place.horizontal_deg), axes.y(gaze.place.vertical_deg) + 21,
             whole(gaze.deviation.horizontal_pd) + "/" + whole(gaze.deviation.vertical_pd),
             Svg::Anchor::middle);
  }
}

std::string draw_nine(const std::string& words, const std::string& members) {
  try {
    Svg svg(600, 310, words);
    double left = 30;
    for (const Eye fixing : {Eye::left, Eye::right}) {
      draw_gazes(svg, left, nine_gazes(members, fixing), fixing);
      left += 300;
    }
    return "<h3>" + escape_html(words) + "</h3>\n" + svg.finish();
  } catch (const NotSimulated& reason) {
    return "<h3>" + escape_html(words) + "</h3>\n" + not_drawn(words, reason.why);
  }
}

}  // namespace

std::string plot_nine_gazes() {
  return "<p>Circles: the gaze asked for, degrees. Dots: the other eye; one on the frame stands "
         "beyond it. Below each: horizontal/vertical deviation, Δ; eso +, right eye higher "
         "+.</p>\n" +
         draw_nine("Healthy muscles", "") +
         draw_nine("Right lateral rectus at half strength", weak("right", "lateral_rectus", 0.5)) +
         draw_nine("Right superior oblique palsy", weak("right", "superior_oblique", 0)) +
         draw_nine("Right inferior rectus that does not yield",
                   R"("muscles": {"right": {"inferior_rectus": {"limit_deg": -14,
                      "limit_stiffness": 12}}})");
}

std::string plot_head_tilt() {
  struct Line {
    const char* words;
    std::string members;
    int grey;
    bool dashed;
    bool named_left = false;
  };
  const std::vector<Line> lines{
      {"healthy", "", 170, false},
      {"right superior oblique palsy", weak("right", "superior_oblique", 0), kBlack, false},
      {"left superior rectus at 0.3", weak("left", "superior_rectus", 0.3), kBlack, true, true},
      {"right inferior oblique at 0.3", weak("right", "inferior_oblique", 0.3), kGrey, true}};
  Svg svg(560, 300, "Vertical deviation over head tilt, left eye fixing");
  Axes axes(50, 20, 490, 225);
  axes.set_x(-45, 45);
  axes.set_y(-20, 30);
  axes.draw(svg, {-45, -30, -15, 0, 15, 30, 45}, {-20, -10, 0, 10, 20, 30});
  svg.text(295, 285, "head tilt, degrees, + towards the right shoulder", Svg::Anchor::middle);
  svg.text(56, 14, "vertical deviation, Δ, right eye higher +; left eye fixing");
  std::string missing;
  for (const Line& line : lines) {
    try {
      std::vector<std::pair<double, double>> points;
      for (double roll = -45.0; roll <= 45.0; roll += 7.5) {
        const double pd = deviation_at(line.members, {0, 0, roll}).vertical_pd;
        points.emplace_back(axes.x(roll), axes.y(pd));
      }
      svg.curve(points, line.grey, 1.6, line.dashed);
      if (line.named_left) {
        svg.text(axes.x(-44.0), points.front().second - 8, line.words);
      } else {
        svg.text(axes.x(44.0), points.back().second - 5, line.words, Svg::Anchor::end);
      }
    } catch (const NotSimulated& reason) {
      missing += not_drawn(line.words, reason.why);
    }
  }
  return svg.finish() + missing;
}

}  // namespace redress::evidence
