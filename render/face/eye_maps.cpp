// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include <array>

#include "render/face/maps.hpp"

namespace redress::face {
namespace {

using glm::mix;
using glm::vec2;
using glm::vec3;

constexpr int kIrisWidth = 1024;
constexpr int kIrisHeight = 256;
constexpr int kScleraSize = 512;
constexpr float kScleraDegrees = 168;  // across; what is farther back never shows

vec3 to_vec(scene::Colour c) { return {c.red, c.green, c.blue}; }

/// What tells one iris from another; both eyes of a person have about the same.
struct StromaPlan {
  float collarette;  ///< where, a share of the way from pupil to limbus
  float wander;      ///< of the collarette
  int crypts;
  int fibres;
  float furrows;  ///< rings where the iris folds as the pupil widens
  int spots;      ///< pale nodules of light irises, dark freckles of all

  explicit StromaPlan(std::uint32_t seed)
      : collarette(0), wander(0), crypts(0), fibres(0), furrows(0), spots(0) {
    Chance chance(seed * 53 + 17);
    collarette = 0.22F + 0.07F * chance.middle();
    wander = 0.05F + 0.09F * chance.even();
    crypts = 5 + static_cast<int>(32 * chance.even() * chance.even());
    fibres = 300 + static_cast<int>(260 * chance.even());
    furrows = 0.06F + 0.40F * chance.even() * chance.even();
    spots = static_cast<int>(9 * chance.even() * chance.even());
  }
};

/// The stroma of one iris: fibres, crypts, collarette, furrows, as a field of heights.
class Stroma {
 public:
  Stroma(const StromaPlan& plan, std::uint32_t seed)
      : plan_(plan), seed_(seed), fibre_(kCells, 0.0F), crypt_(kCells, 0.0F), height_(kCells) {
    Chance chance(seed);
    for (int x = 0; x < kIrisWidth; ++x) {
      columns_.push_back(make_column(static_cast<float>(x) / kIrisWidth));
    }
    draw_fibres(chance);
    for (int k = 0; k < plan_.crypts; ++k) draw_crypt(chance);
    for (int y = 0; y < kIrisHeight; ++y) {
      for (int x = 0; x < kIrisWidth; ++x) height_[cell(x, y)] = calc_height(x, y);
    }
  }
  [[nodiscard]] float crypt(int x, int y) const { return crypt_[cell(x, y)]; }
  [[nodiscard]] float height(int x, int y) const { return height_[cell(x, y)]; }

 private:
  static constexpr std::size_t kCells = static_cast<std::size_t>(kIrisWidth * kIrisHeight);

  /// What runs round the pupil, at one angle: shares of the way to the limbus.
  struct Column {
    float collarette;
    std::array<float, 3> furrow;
  };
  [[nodiscard]] Column make_column(float u) const {
    const auto wave = [&](float count, float at, std::uint32_t seed) {
      return calc_noise(u * count, at, static_cast<int>(count), seed_ + seed) - 0.5F;
    };
    return {plan_.collarette + plan_.wander * (wave(22, 0, 3) + wave(5, 4, 4)),
            {0.72F + 0.05F * wave(7, 1, 8), 0.84F + 0.04F * wave(5, 7, 10),
             0.58F + 0.07F * wave(6, 3, 11)}};
  }

  static std::size_t cell(int x, int y) {  // x may run once round
    return static_cast<std::size_t>(y * kIrisWidth + (x + kIrisWidth) % kIrisWidth);
  }

  [[nodiscard]] float calc_height(int x, int y) const {
    const float v = static_cast<float>(y) / kIrisHeight;
    const float u = static_cast<float>(x) / kIrisWidth;
    const float fine = calc_noise(u * 180, v * 5, 180, seed_ + 5) * 0.6F +
                       calc_noise(u * 90, v * 4 + 9, 90, seed_ + 6) * 0.4F;
    const Column& column = columns_[static_cast<std::size_t>(x)];
    const float furrow = bump(v - column.furrow[0], 0.014F) +
                         0.7F * bump(v - column.furrow[1], 0.014F) +
                         0.8F * bump(v - column.furrow[2], 0.012F);
    return 0.30F * std::min(fibre_[cell(x, y)], 2.2F) + 0.35F * (fine - 0.5F) +
           0.50F * bump(v - column.collarette, 0.035F) - 0.8F * crypt(x, y) -
           plan_.furrows * furrow - 0.25F * ramp(0.06F, 0, v);
  }

  // A gap between the fibres near the collarette.
  void draw_crypt(Chance& chance) {
    const float angle = chance.even() * kIrisWidth;
    const float outer = chance.even() < 0.25F ? 0.25F * chance.even() : 0.0F;
    const float radius = plan_.collarette + 0.08F + 0.07F * chance.middle() + outer;
    const float width = 5 + 9 * chance.even();
    const float height = 0.07F + 0.11F * chance.even();
    const float depth = 0.2F + 0.5F * chance.even();
    const int reach = static_cast<int>(1.5F * width) + 1;
    for (int y = 0; y < kIrisHeight; ++y) {
      const float dy = (static_cast<float>(y) / kIrisHeight - radius) / height;
      for (int x = static_cast<int>(angle) - reach; x <= static_cast<int>(angle) + reach; ++x) {
        const float dx = (static_cast<float>(x) - angle) / width;
        float& c = crypt_[cell(x, y)];
        c = std::max(c, depth * ramp(0, 1.4F, 2 - dx * dx - dy * dy));
      }
    }
  }

  // Radial threads that wander, drawn as soft strokes so that they read as strands.
  void draw_fibres(Chance& chance) {
    for (int k = 0; k < plan_.fibres; ++k) {
      const float angle = chance.even() * kIrisWidth;
      const float from =
          chance.even() < 0.6F ? 0.30F + 0.1F * chance.middle() : chance.even() * 0.35F;
      const float to = 0.55F + 0.5F * chance.even();
      const float drift = chance.middle() * 26;
      const float strength = 0.35F + 0.65F * chance.even();
      const float width = 1.2F + 2.6F * chance.even();
      const float phase = chance.even() * 6;
      for (int y = std::max(static_cast<int>(from * kIrisHeight), 0);
           y < std::min(static_cast<int>(to * kIrisHeight), kIrisHeight); ++y) {
        const float t = (static_cast<float>(y) / kIrisHeight - from) / (to - from);
        const float c = angle + drift * t + 3.5F * std::sin(phase + t * 5);
        const float fade = std::sin(kPi * std::clamp(t, 0.03F, 0.97F));
        for (int q = -8; q <= 8; ++q) {
          const int x = static_cast<int>(c) + q;
          const float d = (static_cast<float>(x) - c) / width;
          fibre_[cell(x % kIrisWidth, y)] += strength * fade * std::exp(-d * d);
        }
      }
    }
  }
  StromaPlan plan_;
  std::uint32_t seed_;
  std::vector<Column> columns_;
  std::vector<float> fibre_;
  std::vector<float> crypt_;
  std::vector<float> height_;
};

/// Vessels that grow from the fornix and the canthi towards the limbus and branch.
struct Twig {
  vec2 at;
  float direction = 0;
  float width = 1;
  float strength = 0;
  int left = 0;
  int order = 0;
};

class Vessels {
 public:
  Vessels() : thin(kCells, 0.0F), deep(kCells, 0.0F) {}
  void grow(const scene::PatientAppearance& who, Chance& chance);
  static constexpr std::size_t kCells = static_cast<std::size_t>(kScleraSize * kScleraSize);
  std::vector<float> thin;
  std::vector<float> deep;

 private:
  void follow(Twig twig, Chance& chance, std::vector<Twig>& more);
  static void dab(std::vector<float>& field, vec2 p, float width, float strength);
  static constexpr float kPerDegree = kScleraSize / kScleraDegrees;
};

void Vessels::dab(std::vector<float>& field, vec2 p, float width, float strength) {
  const int reach = static_cast<int>(width * 2 + 2);
  for (int y = static_cast<int>(p.y) - reach; y <= static_cast<int>(p.y) + reach; ++y) {
    for (int x = static_cast<int>(p.x) - reach; x <= static_cast<int>(p.x) + reach; ++x) {
      if (x < 0 || y < 0 || x >= kScleraSize || y >= kScleraSize) continue;
      const float dx = static_cast<float>(x) - p.x;
      const float dy = static_cast<float>(y) - p.y;
      float& v = field[static_cast<std::size_t>(y * kScleraSize + x)];
      v = std::max(v, strength * std::exp(-(dx * dx + dy * dy) / (width * width)));
    }
  }
}

void Vessels::follow(Twig t, Chance& chance, std::vector<Twig>& more) {
  const bool fine = t.order > 0 || chance.even() < 0.6F;
  float bend = 0;
  for (int k = 0; k < t.left; ++k) {
    bend = bend * 0.80F + chance.middle() * 0.11F;
    t.direction += bend;
    t.at += vec2(std::cos(t.direction), std::sin(t.direction)) * 1.2F;
    const float degrees = glm::length(t.at - vec2(kScleraSize * 0.5F)) / kPerDegree;
    if (degrees < 31) break;  // none over the cornea
    const float s = t.strength * ramp(0, 1, (degrees - 31) / 14) *
                    (1 - 0.6F * static_cast<float>(k) / static_cast<float>(t.left));
    if (fine) {
      dab(thin, t.at, 0.66F * t.width, s);
    } else {
      dab(deep, t.at, 1.5F * t.width, s * 0.5F);
    }
    if (t.order < 3 && chance.even() < 0.026F) {
      const float turn = (chance.even() < 0.5F ? -1.0F : 1.0F) * (0.4F + 0.4F * chance.even());
      more.push_back({t.at, t.direction + turn, t.width * 0.78F, s * 0.85F,
                      static_cast<int>(static_cast<float>(t.left - k) * 0.8F), t.order + 1});
    }
  }
}

void Vessels::grow(const scene::PatientAppearance& who, Chance& chance) {
  std::vector<Twig> todo;
  const int count = static_cast<int>(40 + 60 * who.redness);
  for (int k = 0; k < count; ++k) {
    const float around = chance.even() < 0.75F
                             ? (chance.even() < 0.5F ? 0.0F : kPi) + chance.middle() * 0.75F
                             : chance.even() * 2 * kPi;
    const float r = (62 + 30 * chance.even()) * kPerDegree;
    const vec2 p = vec2(kScleraSize * 0.5F) + r * vec2(std::cos(around), std::sin(around));
    todo.push_back({p, around + kPi + chance.middle() * 0.5F, 1.0F + 0.6F * chance.even(),
                    (0.28F + 0.58F * chance.even()) * (0.55F + who.redness),
                    static_cast<int>(70 + 85 * chance.even()), 0});
  }
  while (!todo.empty()) {
    const Twig t = todo.back();
    todo.pop_back();
    follow(t, chance, todo);
  }
}

}  // namespace

Image make_iris_map(const scene::PatientAppearance& who, std::size_t side) {
  const std::uint32_t seed = who.seed * 31 + static_cast<std::uint32_t>(side);
  const StromaPlan plan(who.seed);
  const Stroma stroma(plan, seed);
  Chance chance(seed + 400);
  struct Spot {
    float u, v, size;
    bool dark;
  };
  std::vector<Spot> spots;
  for (int k = 0; k < plan.spots; ++k) {
    const bool dark = who.iris_fibre < 0.8F || chance.even() < 0.4F;
    spots.push_back({chance.even(), dark ? 0.35F + 0.55F * chance.even() : 0.80F,
                     0.008F + 0.012F * chance.even(), dark});
  }
  std::vector<float> inner_edge;
  for (int x = 0; x < kIrisWidth; ++x) {
    const float u = static_cast<float>(x) / kIrisWidth;
    inner_edge.push_back(plan.collarette - 0.15F +
                         (0.12F + 1.2F * plan.wander) * calc_noise(u * 26, 2, 26, seed + 9));
  }
  Image out(kIrisWidth, kIrisHeight);
  for (int y = 0; y < kIrisHeight; ++y) {
    for (int x = 0; x < kIrisWidth; ++x) {
      const float v = static_cast<float>(y) / kIrisHeight;
      const float u = static_cast<float>(x) / kIrisWidth;
      const float h = stroma.height(x, y);
      const float slope = stroma.height(x + 2, y) - stroma.height(x - 2, y);
      const float edge = inner_edge[static_cast<std::size_t>(x)] + 0.07F * h;
      const float inner = 1 - ramp(0, 0.24F, v - edge);
      vec3 c = mix(to_vec(who.iris_outer), to_vec(who.iris_inner), inner);
      c *= 1 + who.iris_fibre * (0.72F * h + 0.75F * slope) +
           0.14F * (calc_noise(u * 11, v * 2, 11, seed + 12) - 0.5F);
      c *= mix(1.0F, 0.5F, 0.6F * stroma.crypt(x, y) * who.iris_fibre);
      const float fleck = ramp(0, 0.06F, calc_fractal(u * 40, v * 7, 3, seed + 20) - 0.66F);
      c = mix(c, vec3(0.13F, 0.07F, 0.03F), fleck * (who.iris_fibre > 0.5F ? 0.18F : 0.08F));
      for (const Spot& spot : spots) {
        // A turn is about six times as long as the way from pupil to limbus.
        const float d = std::hypot(std::remainder(u - spot.u, 1.0F), (v - spot.v) / 6.0F);
        if (d > 3 * spot.size) continue;
        c = mix(c, spot.dark ? vec3(0.060F, 0.030F, 0.014F) : c * 1.7F, 0.7F * bump(d, spot.size));
      }
      c *= mix(1.0F, 0.34F, who.limbal_ring * ramp(0.70F, 1.02F, v));
      c *= mix(1.0F, 0.50F, std::exp(-v / 0.022F));  // dark ruff at the pupil
      c = glm::max(c, vec3(0.004F));
      std::uint8_t* p = out.at(x, y);
      p[0] = to_byte(std::sqrt(c.r));
      p[1] = to_byte(std::sqrt(c.g));
      p[2] = to_byte(std::sqrt(c.b));
      p[3] = to_byte(0.5F + 0.25F * h);
    }
  }
  return out;
}

Image make_sclera_map(const scene::PatientAppearance& who, std::size_t side) {
  Vessels vessels;
  Chance chance(who.seed * 77 + static_cast<std::uint32_t>(side) + 5);
  vessels.grow(who, chance);
  Image out(kScleraSize, kScleraSize);
  for (int y = 0; y < kScleraSize; ++y) {
    for (int x = 0; x < kScleraSize; ++x) {
      const auto k = static_cast<std::size_t>(y * kScleraSize + x);
      std::uint8_t* p = out.at(x, y);
      p[0] = to_byte(vessels.thin[k]);
      p[1] = to_byte(vessels.deep[k]);
      p[2] = to_byte(calc_fractal(static_cast<float>(x) / 42, static_cast<float>(y) / 42, 3,
                                  who.seed + 900 + static_cast<std::uint32_t>(side)));
      p[3] = 255;
    }
  }
  return out;
}

}  // namespace redress::face
