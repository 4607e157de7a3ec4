// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/lids.hpp"

namespace redress::face {
namespace {

using glm::mix;

// Height of each margin over the line between the canthi, as a share of the most, from the lateral
// canthus (-1) to the medial one (+1). The upper margin peaks nasal of the pupil, the lower one
// temporal of it; both run into the inner canthus almost level.
struct Knot {
  float s;
  float upper;
  float lower;
};
constexpr std::array<Knot, 16> kShape{{{-1, 0, 0},
                                       {-0.975F, 0.10F, 0.09F},
                                       {-0.93F, 0.24F, 0.24F},
                                       {-0.84F, 0.46F, 0.48F},
                                       {-0.66F, 0.745F, 0.79F},
                                       {-0.42F, 0.93F, 0.965F},
                                       {-0.18F, 0.99F, 1},
                                       {0.04F, 1, 0.965F},
                                       {0.26F, 0.935F, 0.83F},
                                       {0.46F, 0.78F, 0.62F},
                                       {0.62F, 0.58F, 0.42F},
                                       {0.75F, 0.38F, 0.25F},
                                       {0.86F, 0.235F, 0.15F},
                                       {0.94F, 0.15F, 0.10F},
                                       {0.985F, 0.075F, 0.055F},
                                       {1, 0, 0}}};

/// Monotone cubic through the knots.
float calc_along(float s, float Knot::*member) {
  s = std::clamp(s, -1.0F, 1.0F);
  std::size_t i = 0;
  while (i < kShape.size() - 2 && s > kShape[i + 1].s) ++i;
  const auto secant = [member](std::size_t k) {
    return (kShape[k + 1].*member - kShape[k].*member) / (kShape[k + 1].s - kShape[k].s);
  };
  const auto slope = [&](std::size_t k) {
    if (k == 0) return secant(0);
    if (k == kShape.size() - 1) return secant(k - 1);
    const float a = secant(k - 1);
    const float b = secant(k);
    return a * b <= 0 ? 0.0F : 2 * a * b / (a + b);
  };
  const float h = kShape[i + 1].s - kShape[i].s;
  const float t = (s - kShape[i].s) / h;
  const float t2 = t * t;
  const float t3 = t2 * t;
  return (2 * t3 - 3 * t2 + 1) * kShape[i].*member + (t3 - 2 * t2 + t) * h * slope(i) +
         (3 * t2 - 2 * t3) * kShape[i + 1].*member + (t3 - t2) * h * slope(i + 1);
}

}  // namespace

Lids::Lids(const scene::PatientAppearance& who, const Relief& relief)
    : who_(who),
      traits_(make_traits(who)),
      relief_(relief),
      half_(who.interpupillary_mm * 0.5F),
      nasal_(who.fissure_length_mm * 0.518F - who.telecanthus_mm - who.epicanthus * 1.6F),
      temporal_(-who.fissure_length_mm * 0.482F),
      nasal_y_(-0.55F * who.canthal_tilt_mm - 0.3F - who.epicanthus * 0.5F),
      temporal_y_(0.45F * who.canthal_tilt_mm - 0.3F),
      dome_(14.0F + who.prominence_mm) {}

LidLine Lids::calc_rest(std::size_t side) const {
  return {who_.upper_margin_mm[side] - who_.ptosis_mm[side], who_.lower_margin_mm[side]};
}

LidLine Lids::calc_line(std::size_t side, const scene::EyePose& pose) const {
  // The upper lid follows vertical gaze by about 0.19 mm a degree, the lower by half of that.
  const float up = static_cast<float>(std::clamp(pose.vertical_deg, -45.0, 45.0));
  const LidLine rest = calc_rest(side);
  float top = rest.top + (up > 0 ? 0.175F : 0.185F) * up;
  float bottom = rest.bottom - (up > 0 ? 0.06F : 0.10F) * up;
  const float shut = 1 - std::clamp(static_cast<float>(pose.lid_open_fraction), 0.0F, 1.0F);
  bottom = mix(bottom, rest.bottom - 0.9F, shut);  // the lower lid rises a little to meet it
  top = mix(std::max(top, -bottom), -bottom, shut);
  return {top, bottom};
}

float Lids::lower(float n, LidLine line) const {
  const float s = 2 * (n - temporal_) / (nasal_ - temporal_) - 1;
  const float chord =
      mix(temporal_y_, nasal_y_, std::clamp((n - temporal_) / (nasal_ - temporal_), 0.0F, 1.0F));
  return chord - (line.bottom + 0.5F * (nasal_y_ + temporal_y_)) * calc_along(s, &Knot::lower);
}

float Lids::upper(float n, LidLine line) const {
  const float s = 2 * (n - temporal_) / (nasal_ - temporal_) - 1;
  const float u = calc_along(s - traits_.peak * (1 - s * s), &Knot::upper);
  const float w = calc_along(s, &Knot::lower);
  const float fold = who_.epicanthus * ramp(0.25F, 0.85F, s);
  float gap = mix(0.44F * u + 0.56F * w, 0.75F * w, fold * 0.8F);  // opening, a share of the most
  gap = mix(gap, 0.6F * u + 0.4F * w, 0.35F);
  return lower(n, line) + std::max(line.top + line.bottom, 0.0F) * gap;
}

float Lids::crease(std::size_t side, float n, LidLine line) const {
  constexpr float kOpen = 4.3F;  // usual height of the open lid
  const float top = std::max(line.top, -line.bottom);
  // It follows the lid a third of the way: shallow and high in down gaze.
  float height = kOpen + who_.crease_show_mm + traits_.crease_mm[side] + 0.34F * (top - kOpen);
  height = std::max(height, top + 0.9F);
  const float d = n - 0.8F;
  float y = height - (d > 0 ? 0.030F : 0.0185F) * d * d;
  y -= who_.hooding * (1.2F + 3.2F * ramp(3, -12, n));
  return smooth_max(y, upper(std::clamp(n, temporal_, nasal_), line) + 0.35F, 0.8F);
}

float Lids::crease_strength(float n) const {
  return ramp(temporal_ - 3.5F, temporal_ + 3.5F, n) * ramp(nasal_ + 1.0F, nasal_ - 5.0F, n);
}

float Lids::calc_ellipse(float n, float y) {
  const float a = n / 21.0F;
  const float b = (y - 1.5F) / 15.6F;
  return std::sqrt(a * a + b * b);
}

/// Depth above the crease's line of attention: bare lid below it, fold above it.
float Lids::fold_z(std::size_t side, float n, float y, float face, float dome, float smooth,
                   LidLine line, float fade) const {
  const float shut = ramp(3.0F, -5.0F, line.top);
  const float d = y - crease(side, n, line);
  const float strength =
      who_.crease_depth * crease_strength(n) * fade * mix(1.0F, 0.28F, ramp(3.0F, -2.5F, line.top));
  const float over = std::max(face - 0.9F * shut - dome, 0.0F);
  float folded = d > 0 ? dome + over * (1 - std::exp(-d / 0.95F)) : dome;
  folded = std::max(folded, face - 3.0F);
  if (d > 0) folded = mix(folded, smooth, ramp(2.0F, 8.0F, d));
  // Bare lid exists only between the canthi.
  const float between =
      d < 0 ? ramp(temporal_ + 0.5F, temporal_ + 4.5F, n) * ramp(nasal_ - 1.0F, nasal_ - 6.0F, n)
            : 1.0F;
  const float near = ramp(-9.0F, -3.0F, -std::abs(d));
  float z = mix(smooth, folded, std::min(strength, 1.0F) * between * near);
  z -= 0.36F * strength * bump(d, 0.42F);  // the crease itself
  const float roll = 0.30F + 0.9F * who_.hooding * ramp(5.0F, -9.0F, n);
  z += roll * strength * (1 - 0.85F * shut) * ramp(0, 1.3F, d) * bump(d - 1.3F, 2.6F);
  // A second, faint line above it while the lid is down, where the fold unrolls.
  z -= 0.13F * crease_strength(n) * fade * shut * bump(d - 2.6F, 0.7F);
  z += 0.18F * (1 - who_.crease_depth) * bump(d, 2.0F) * crease_strength(n);  // single lid: full
  return z;
}

float Lids::skin_z(std::size_t side, float n, float y, LidLine line) const {
  const float face = relief_.z(x(side, n), y);
  const float r2 = n * n + y * y * 0.98F;
  // The lid over the globe: a dome, flatter at its foot than the sphere.
  float dome = dome_ - r2 / (2 * dome_) * (1 + r2 * 0.0006F);
  const float shut = ramp(3.0F, -5.0F, line.top);
  if (shut > 0) dome += 0.55F * shut * bump(n, 5.4F) * bump(y + 1.5F, 5.0F);  // cornea beneath
  const float fade = ramp(1.0F, 0.80F, calc_ellipse(n, y));  // nothing that moves reaches the rim
  const float smooth = smooth_max(face, dome, 10.5F);
  if (fade <= 0) return smooth;
  float z = smooth;
  if (y > 0.5F * (nasal_y_ + temporal_y_) - 3.0F) {
    z = fold_z(side, n, y, face, dome, smooth, line, fade);
  }
  if (who_.epicanthus > 0) {  // a soft ridge across the inner canthus
    const float away = n - (nasal_ - 0.2F - 0.022F * (y + 0.5F) * (y + 0.5F));
    z += who_.epicanthus * 1.3F * bump(away, 2.4F) * ramp(-7, -1, y) * ramp(8.5F, 1, y);
  }
  const float below = lower(std::clamp(n, temporal_, nasal_), line) - y;
  if (below > -1.0F) {  // the roll under the lashes, then a faint groove
    const float w = ramp(temporal_ - 2, temporal_ + 5, n) * ramp(nasal_ + 1, nasal_ - 5, n) * fade;
    z += w * (0.34F * bump(below - 2.4F, 2.1F) - 0.10F * bump(below - 6.4F, 1.8F));
  }
  return z;
}

}  // namespace redress::face
