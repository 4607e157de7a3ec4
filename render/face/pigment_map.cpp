// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where the skin is darker or redder, and its wrinkles as slopes.
#include "render/face/maps.hpp"

namespace redress::face {
namespace {

using glm::mix;
using glm::vec2;

constexpr int kWidth = 736;  // 4 pixels a mm
constexpr int kHeight = 536;
constexpr float kPixelsPerMm = kWidth / (kSkin.x1 - kSkin.x0);

/// A field over the skin that soft dots can be put on; the stronger of two wins.
class Field {
 public:
  Field() : value_(static_cast<std::size_t>(kWidth * kHeight), 0.0F) {}
  void dab(vec2 mm, float radius_mm, float amount) {
    const vec2 c((mm.x - kSkin.x0) * kPixelsPerMm, (mm.y - kSkin.y0) * kPixelsPerMm);
    const float radius = radius_mm * kPixelsPerMm;
    const int reach = static_cast<int>(radius * 2.2F + 1);
    for (int y = static_cast<int>(c.y) - reach; y <= static_cast<int>(c.y) + reach; ++y) {
      for (int x = static_cast<int>(c.x) - reach; x <= static_cast<int>(c.x) + reach; ++x) {
        if (x < 0 || y < 0 || x >= kWidth || y >= kHeight) continue;
        const float dx = static_cast<float>(x) - c.x;
        const float dy = static_cast<float>(y) - c.y;
        const float v = amount * std::exp(-(dx * dx + dy * dy) / (radius * radius));
        float& o = value_[static_cast<std::size_t>(y * kWidth + x)];
        if (std::abs(v) > std::abs(o)) o = v;
      }
    }
  }
  [[nodiscard]] float at(int x, int y) const {
    return value_[static_cast<std::size_t>(std::clamp(y, 0, kHeight - 1) * kWidth +
                                           std::clamp(x, 0, kWidth - 1))];
  }

 private:
  std::vector<float> value_;
};

/// A furrow that starts and ends softly.
struct Line {
  vec2 from;
  float direction = 0;
  float curve = 0;  // per mm
  float length = 10;
  float width = 0.4F;
  float depth = 0;
};

void draw_line(const Line& line, Chance& chance, Field& field) {
  constexpr float kStep = 0.12F;
  vec2 p = line.from;
  float direction = line.direction;
  for (float s = 0; s < line.length; s += kStep) {
    const float d = line.depth * std::sin(kPi * std::pow(s / line.length, 0.7F));
    field.dab(p, line.width, -d);
    direction += line.curve * kStep + 0.012F * chance.middle();
    p += kStep * vec2(std::cos(direction), std::sin(direction));
  }
}

void draw_wrinkles(const scene::PatientAppearance& who, const Lids& lids, std::size_t side,
                   Chance& chance, Field& field) {
  const float s = side == 1 ? 1.0F : -1.0F;
  const auto flip = [s](float d) { return s > 0 ? d : kPi - d; };
  const float half = lids.half_ipd();
  const float w = who.wrinkles;
  const float scale = who.face_scale;
  const vec2 lateral(lids.x(side, lids.temporal_end()), lids.temporal_y());
  for (int k = 0; k < 7; ++k) {  // crow's feet
    const float g = (static_cast<float>(k) - 3.5F) / 3.3F + 0.1F * chance.middle();
    draw_line(
        {lateral + vec2(s * (4.5F + 1.8F * std::abs(g)), 5.0F * g),
         flip(0.62F * g + 0.06F * chance.middle()), s * (-0.02F - 0.018F * g),
         (7 + 9 * chance.even()) * (0.6F + 0.6F * w), 0.62F, w * (0.08F + 0.20F * chance.even())},
        chance, field);
  }
  for (int k = 0; k < 7; ++k) {  // fine lines along the lower lid
    const float d = 3.0F + 1.45F * static_cast<float>(k) + 0.5F * chance.middle();
    const float n0 = 10 - 4.0F * chance.even();
    draw_line({{s * (half - n0), -4.4F - d + 0.12F * (n0 - 8)},
               flip(-0.40F + 0.05F * chance.middle()),
               s * 0.034F,
               14 + 9 * chance.even(),
               0.38F,
               (0.03F + 0.15F * w) * (0.4F + 0.7F * chance.even())},
              chance, field);
  }
  draw_line({{s * (5.5F + 1.2F * chance.middle()) * scale, 12 * scale},
             0.5F * kPi - s * 0.05F,
             s * -0.012F,
             11 + 5 * chance.even(),
             0.7F,
             std::max(w - 0.25F, 0.0F) * 0.5F},
            chance, field);      // frown
  for (int k = 0; k < 3; ++k) {  // across the bridge
    draw_line({{s * 0.2F, (3.5F + 2.6F * static_cast<float>(k)) * scale},
               flip(0.22F),
               s * 0.03F,
               7 * scale,
               0.4F,
               std::max(w - 0.35F, 0.0F) * 0.22F},
              chance, field);
  }
  for (int k = 0; k < 2; ++k) {  // forehead
    draw_line({{s * (half + 10), 33 * scale + 7.0F * static_cast<float>(k)},
               flip(3.1F),
               s * 0.002F,
               40,
               0.9F,
               std::max(w - 0.3F, 0.0F) * 0.32F},
              chance, field);
  }
}

void draw_spots(const scene::PatientAppearance& who, Chance& chance, Field& field) {
  for (int k = 0; k < static_cast<int>(1500 * who.freckles); ++k) {
    const vec2 p(62 * chance.middle(), -14 + 34 * chance.middle());
    const float keep = bump(p.y + 13, 20) * (0.35F + 0.65F * bump(p.x, 44));
    if (chance.even() > keep) continue;
    const float size = chance.even();
    field.dab(p, 0.20F + 0.45F * size * size, 0.18F + 0.5F * chance.even());
  }
  const int moles = static_cast<int>(14 + 70 * std::max(who.wrinkles - 0.4F, 0.0F));
  for (int k = 0; k < moles; ++k) {
    field.dab({70 * chance.middle(), 50 * chance.middle()},
              0.25F + 0.5F * chance.even() * (1 + who.wrinkles), 0.08F + 0.24F * chance.even());
  }
}

struct Tone {
  float melanin;
  float blood;
};

/// What the place on the face does to the colour; mm. Little light leaves a furrow.
Tone calc_tone(const scene::PatientAppearance& who, float x, float y, float spot, float furrow) {
  const std::uint32_t seed = who.seed * 7 + 1;
  const float scale = who.face_scale;
  const float across = std::abs(x);
  const float n = 0.5F * who.interpupillary_mm - across;
  const float big = calc_noise(x / 13, y / 13, 0, seed) * 0.6F +
                    calc_noise(x / 6, y / 6, 0, seed + 1) * 0.4F - 0.5F;
  const float fine = 0.6F * calc_noise(x / 1.7F, y / 1.7F, 0, seed + 2) +
                     0.4F * calc_noise(x / 0.7F, y / 0.7F, 0, seed + 4) - 0.5F;
  const float r = std::hypot(n * 0.88F, y - 0.5F);
  const float ring = ramp(21, 10, r);
  // Tear trough and inner corner.
  const float under = bump(std::hypot(n - 5.5F, (y + 10.5F) * 1.25F), 8.5F) +
                      0.55F * bump(std::hypot(n - 9.0F, y - 3.5F), 6.5F);
  const float lid = ramp(13.5F, 9.0F, r) * ramp(-3.0F, -0.5F, y);
  const float tip = bump(std::hypot(across * 0.9F, y + 36 * scale), 13);
  const float cheek = bump(std::hypot(across - 38, (y + 26) * 1.1F), 15);
  const float wing = bump(std::hypot(across - 14, y + 36 * scale), 5);
  const float mottle = 0.34F * (calc_noise(x / 7 + 40, y / 7, 0, seed + 3) - 0.5F) +
                       0.26F * (calc_noise(x / 2.2F, y / 2.2F, 0, seed + 5) - 0.5F);
  Tone tone{};
  tone.melanin = who.circles * (0.32F * ring + 0.44F * under + 0.26F * lid) *
                     mix(0.55F, 1.0F, ramp(0.05F, 0.4F, who.melanin)) +
                 who.mottling * (0.16F * big + 0.10F * fine) + 0.55F * spot + 0.55F * furrow -
                 0.05F * bump(across, 14) * ramp(10, 30, y);
  tone.blood = 0.10F * ring + 0.55F * under * who.circles + 0.12F * lid + 0.58F * tip +
               0.58F * cheek + 0.40F * wing + who.mottling * mottle + 0.50F * furrow +
               0.35F * ramp(80, 88, across);  // ears
  return tone;
}

}  // namespace

Image make_pigment_map(const scene::PatientAppearance& who, const Lids& lids) {
  Field crease;
  Field spots;
  Chance chance(who.seed + 99);
  for (const std::size_t side : {0U, 1U}) draw_wrinkles(who, lids, side, chance, crease);
  draw_spots(who, chance, spots);
  const Nose nose(who);
  Image out(kWidth, kHeight);
  for (int y = 0; y < kHeight; ++y) {
    for (int x = 0; x < kWidth; ++x) {
      const float mx = kSkin.x0 + (static_cast<float>(x) + 0.5F) / kPixelsPerMm;
      const float my = kSkin.y0 + (static_cast<float>(y) + 0.5F) / kPixelsPerMm;
      Tone tone = calc_tone(who, mx, my, spots.at(x, y), std::max(-crease.at(x, y), 0.0F));
      // The map of the light is too coarse for the rim of a nostril.
      const float inside =
          ramp(0.25F, 0.65F, nose.calc_nostril(mx / who.face_scale, my / who.face_scale));
      tone.melanin = mix(tone.melanin, 1.0F, inside);
      tone.blood = mix(tone.blood, 1.0F, inside);
      std::uint8_t* p = out.at(x, y);
      constexpr float kSlope = 0.125F * kPixelsPerMm;
      p[0] = to_byte(0.5F + 0.5F * tone.melanin);
      p[1] = to_byte(0.4F + 0.5F * tone.blood);
      p[2] = to_byte(0.5F + kSlope * (crease.at(x + 1, y) - crease.at(x - 1, y)));
      p[3] = to_byte(0.5F + kSlope * (crease.at(x, y + 1) - crease.at(x, y - 1)));
    }
  }
  return out;
}

}  // namespace redress::face
