// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the picture is measured by: the sizes of an eye at every scale, how far a turn moves it,
// torsion, and displacement through prisms and spectacles against a trace of their own; at each of
// the three qualities.
#include <catch2/catch.hpp>

#include "tests/render/picture_fixture.hpp"

using namespace redress;
using namespace redress::test;

namespace {

constexpr double kPi = 3.14159265358979;
constexpr double kExaminer = 600;      // mm before the centres of rotation
constexpr double kPupilPlane = 10.45;  // of the drawn entrance pupil
constexpr double kTurnsBehind = 1.3;   // that plane's origin, in horizontal turns
constexpr double kLensPlane = 25.5;    // 12 mm before the cornea

/// Where the light first rises from dark to bright along a row, from x0 towards x1; with a
/// fraction.
double find_rise(const draw::Pixels& p, double x0, double x1, double y, double level) {
  const double step = x1 > x0 ? 1 : -1;
  const auto row = static_cast<int>(std::lround(y));
  const auto light = [&](double x) {
    double sum = 0;
    for (int dy = -1; dy <= 1; ++dy) sum += calc_light(p.at(static_cast<int>(x), row + dy));
    return sum / 3;
  };
  for (double x = std::round(x0); step * (x1 - x) > 0; x += step) {
    const double here = light(x);
    const double next = light(x + step);
    if (here < level && next >= level) return x + step * (level - here) / (next - here);
  }
  return x1;
}

/// Left and right edge of the iris of the eye whose pupil is at (x, y), along its lower third,
/// where no lash and no reflection of the room is.
std::array<double, 2> find_limbus(const draw::Pixels& p, double x, double y, double px) {
  const double row = y + 1.6 * px;
  const double level =
      0.5 * (calc_light(p.at(static_cast<int>(x + 4.6 * px), static_cast<int>(row))) +
             calc_light(p.at(static_cast<int>(x + 7.6 * px), static_cast<int>(row))));
  return {find_rise(p, x - 4.4 * px, x - 9 * px, row, level),
          find_rise(p, x + 4.4 * px, x + 9 * px, row, level)};
}

Centroid find_eye(const scene::Scene& s, double x_mm, double dark = 48) {
  const std::array<double, 2> at = to_pixel(s, x_mm, 0);
  return find_pupil(studio().draw(s), at[0], at[1], s.view.pixels_per_mm, dark);
}

/// The middle of a pupil near (x, y), whatever is mirrored over it: of the ring by which it widens,
/// in linear light, to which mirrors add the same both times.
Centroid find_widening(scene::Scene s, std::size_t eye, double x, double y) {
  const double px = s.view.pixels_per_mm;
  s.eyes[eye].pupil_mm = 3.0;
  const draw::Pixels narrow = studio().draw(s);
  s.eyes[eye].pupil_mm = 4.6;
  const draw::Pixels wide = studio().draw(s);
  const auto linear = [](std::uint8_t v) { return std::pow(v / 255.0, 2.2); };
  Centroid c{x, y, 0};
  for (const double radius_mm : {3.4, 2.9, 2.8}) {
    c = find_centroid(wide, c.x, c.y, radius_mm * px, [&](int ix, int iy) {
      const auto a = narrow.at(ix, iy);
      const auto b = wide.at(ix, iy);
      return std::max(linear(a[1]) - linear(b[1]) - 0.012, 0.0);
    });
  }
  return c;
}

/// Solves f(x) = 0 for a rising f.
double solve(const std::function<double(double)>& f, double low, double high) {
  for (int k = 0; k < 60; ++k) {
    const double middle = 0.5 * (low + high);
    (f(middle) < 0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

/// The picture's x, mm in the plane of the pupils, at which a pupil at `pupil_x` is seen through a
/// wedge with its flat back at z = 27 before the point `eye_x`, base to +x. Snell at both faces.
double trace_wedge(double pupil_x, double eye_x, double apex, double half_width) {
  constexpr double kIndex = 1.49;
  constexpr double kBack = 27;
  const auto front_z = [&](double x) {
    return kBack + 1.6 + (half_width + x - eye_x) * std::tan(apex);
  };
  const auto land = [&](double x) {  // through the point of the front at x
    const double z = front_z(x);
    const double fall = std::atan2(x, kExaminer - z);  // of the ray, from straight backwards
    const double tilt = std::atan2(-std::sin(apex), std::cos(apex));  // of the front's normal
    // Angles from the axis, of rays that run away from the examiner; + to +x.
    const double inside = std::asin(std::sin(fall + tilt) / kIndex) - tilt;
    const double at_back = x + (z - kBack) * std::tan(inside);
    const double away = std::asin(kIndex * std::sin(inside));
    return at_back + (kBack - kPupilPlane) * std::tan(away);
  };
  const double x =
      solve([&](double at) { return land(at) - pupil_x; }, eye_x - half_width, eye_x + half_width);
  return x * (kExaminer - kPupilPlane) / (kExaminer - front_z(x));
}

/// The same through a thin lens of this power, mm from its optical centre as a line's slope
/// changes.
double trace_lens(double pupil, double power_d, double centre) {
  const auto land = [&](double at) {
    const double slope = at / (kLensPlane - kExaminer) + power_d / 1000 * (at - centre);
    return at + slope * (kPupilPlane - kLensPlane);
  };
  const double at = solve([&](double q) { return land(q) - pupil; }, pupil - 12, pupil + 12);
  return at * (kExaminer - kPupilPlane) / (kExaminer - kLensPlane);
}

/// Every proof holds at every quality: what a slow machine leaves out is skin.
face::Quality find_next_quality() {
  return GENERATE(face::Quality::kHigh, face::Quality::kMedium, face::Quality::kLow);
}

scene::Scene make_one_eye(double x_mm) {
  scene::Scene s = make_scene(60);
  s.view.centre_x_mm = x_mm;
  return s;
}

/// The picture's x of a place in pixels, mm from the midline.
double to_mm(const scene::Scene& s, double x_px) {
  return (x_px + 0.5 - 0.5 * kWidth) / s.view.pixels_per_mm - s.view.centre_x_mm;
}

}  // namespace

TEST_CASE("a pupil moves with its rotation up to 45 prism dioptres") {
  const WithQuality with(find_next_quality());
  scene::Scene s = make_close_scene();
  const double px = s.view.pixels_per_mm;
  const double straight = find_eye(s, 31).x;
  for (const double sign : {1.0, -1.0}) {
    // A point 11.75 mm before where the eye turns, angle kappa temporal of the line of sight.
    const double kappa = sign * 5.5 * kPi / 180;
    std::vector<std::array<double, 2>> moves;  // by geometry, seen; pixels
    double slope = 0;
    for (const double pd : {0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 12.0, 20.0, 30.0, 45.0}) {
      const double turn = std::atan(pd / 100);
      s.eyes[0].horizontal_deg = sign * turn * 180 / kPi;
      const double seen = sign * (straight - find_eye(s, 31 + sign * 11.7 * std::sin(turn)).x);
      const double geometric =
          px * (kPupilPlane + kTurnsBehind) * (std::sin(turn + kappa) - std::sin(kappa));
      moves.push_back({geometric, seen});
      slope += 0.1 * seen / geometric;
    }
    // The cornea shows a pupil that is seen aslant a little to the side.
    CHECK(slope == Approx(1).margin(0.035));
    for (const std::array<double, 2>& m : moves) {
      INFO(sign * m[0] << " px by rotation, " << m[1] << " seen, slope " << slope);
      CHECK(std::abs(m[1] - slope * m[0]) < std::max(0.02 * slope * m[0], 0.05));
    }
  }
}

TEST_CASE("pupils are as far apart as the case says, at every scale") {
  const WithQuality with(find_next_quality());
  for (const double across : {250.0, 160.0, 130.0, 90.0}) {
    const scene::Scene s = make_scene(across);
    const double apart = find_eye(s, -31).x - find_eye(s, 31).x;
    INFO(across << " mm across");
    CHECK(apart / s.view.pixels_per_mm == Approx(62).margin(0.15));
  }
  for (const double across : {60.0, 45.0, 25.0}) {  // one eye at a time: each where it should be
    for (const double x : {31.0, -31.0}) {
      scene::Scene s = make_scene(across);
      s.view.centre_x_mm = x;
      INFO(across << " mm across");
      CHECK(to_mm(s, find_eye(s, x).x) == Approx(-x).margin(0.1));
    }
  }
}

TEST_CASE("an iris is 11.7 mm wide and an opening as high as the person's, at every scale") {
  const WithQuality with(find_next_quality());
  for (const double across : {130.0, 60.0, 40.0}) {
    scene::Scene s = make_scene(across);
    s.view.centre_x_mm = 31;
    const double px = s.view.pixels_per_mm;
    const draw::Pixels p = settle(s);
    const std::array<double, 2> at = to_pixel(s, 31, 0);
    const Centroid pupil = find_pupil(p, at[0], at[1], px);
    const std::array<double, 2> edges = find_limbus(p, pupil.x, pupil.y, px);
    // The row is 1.6 mm below the middle of a circle.
    const double half = 0.5 * (edges[1] - edges[0]) / px;
    INFO(across << " mm across: " << 2 * std::hypot(half, 1.6) << " mm");
    CHECK(2 * std::hypot(half, 1.6) == Approx(11.7).margin(0.25));
    // What an eye that looks elsewhere changes is what is seen between the lids.
    s.eyes[0].horizontal_deg = 40;
    const draw::Pixels away = settle(s);
    int top = kHeight;
    int bottom = 0;
    for (int y = 0; y < kHeight; ++y) {
      for (int dx = -2; dx <= 2; ++dx) {
        if (p.at(static_cast<int>(at[0]) + dx, y) == away.at(static_cast<int>(at[0]) + dx, y)) {
          continue;
        }
        top = std::min(top, y);
        bottom = std::max(bottom, y);
      }
    }
    // 4.0 above and 5.5 below the pupil, less what the wet margins take.
    INFO(top << " " << bottom);
    CHECK((bottom - top + 1) / px == Approx(9.5 - 0.25 - 0.5).margin(0.45));
  }
}

TEST_CASE("the limbus moves with the globe that is drawn") {
  const WithQuality with(find_next_quality());
  // Published: 4.6 degrees a millimetre in adduction, 4.8 in abduction (Paliaga and Ghisolfi).
  scene::Scene s = make_close_scene();
  const double px = s.view.pixels_per_mm;
  const auto edges_at = [&](double degrees) {
    s.eyes[0].horizontal_deg = degrees;
    const draw::Pixels p = studio().draw(s);
    const std::array<double, 2> at = to_pixel(s, 31 + 0.18 * degrees, 0);
    const Centroid pupil = find_pupil(p, at[0], at[1], px);
    const std::array<double, 2> e = find_limbus(p, pupil.x, pupil.y, px);
    return 0.5 * (e[0] + e[1]);
  };
  const double per_mm = 6 / ((edges_at(-3) - edges_at(3)) / px);
  INFO(per_mm << " degrees a millimetre");
  CHECK(per_mm >= 4.6);
  CHECK(per_mm <= 4.8);
}

TEST_CASE("ten degrees of torsion are ten degrees in the iris") {
  const WithQuality with(find_next_quality());
  scene::Scene s = make_close_scene();
  const double px = s.view.pixels_per_mm;
  const auto ring_at = [&](double torsion) {
    s.eyes[0].torsion_deg = torsion;
    const draw::Pixels p = studio().draw(s);
    const std::array<double, 2> at = to_pixel(s, 31, 0);
    const Centroid c = find_pupil(p, at[0], at[1], px);
    std::vector<double> ring;
    for (double a = -180; a < 180; a += 0.5) {
      double sum = 0;
      for (double r = 2.5; r <= 4.2; r += 0.1) {
        const double x = c.x + r * px * std::cos(a * kPi / 180);
        const double y = c.y - r * px * std::sin(a * kPi / 180);
        sum += calc_light(p.at(static_cast<int>(std::lround(x)), static_cast<int>(std::lround(y))));
      }
      ring.push_back(sum);
    }
    return ring;
  };
  const std::vector<double> upright = ring_at(0);
  for (const double torsion : {10.0, -10.0}) {
    const std::vector<double> turned = ring_at(torsion);
    double best = 1e300;
    double found = 0;
    for (int shift = -40; shift <= 40; ++shift) {  // half degrees; the lower half, free of lids
      double sum = 0;
      double n = 0;
      double mean = 0;
      for (const int pass : {0, 1}) {
        for (double a = -150; a <= -30; a += 0.5) {
          const auto i = static_cast<std::size_t>(std::lround((a + 180) * 2));
          const double d =
              turned[i] - upright[static_cast<std::size_t>(static_cast<int>(i) - shift)];
          if (pass == 0) {
            mean += d;
            n += 1;
          } else {
            sum += (d - mean / n) * (d - mean / n);
          }
        }
      }
      if (sum < best) {
        best = sum;
        found = 0.5 * shift;
      }
    }
    // Top of the eye to the patient's right is to the left of the picture: counter-clockwise.
    INFO("torsion " << torsion << " seen as " << found);
    CHECK(found == Approx(torsion).margin(0.75));
  }
}

TEST_CASE("a prism displaces what is behind it as far as refraction does, up to 40 dioptres") {
  const WithQuality with(find_next_quality());
  for (const double x_mm : {31.0, -31.0}) {
    scene::Scene s = make_one_eye(x_mm);
    const std::size_t eye = x_mm > 0 ? 0 : 1;
    const std::array<double, 2> home = to_pixel(s, x_mm, 0);
    const double pupil = to_mm(s, find_widening(s, eye, home[0], home[1]).x);
    for (const double base_deg : {0.0, 180.0}) {
      for (const double power : {4.0, 12.0, 20.0, 30.0, 40.0}) {
        scene::Prism p;
        p.eye = x_mm > 0 ? scene::Eye::kRight : scene::Eye::kLeft;
        const double apex = power / 100 / 0.49;  // of a thin prism: thick enough for a test
        p.steps = {{power, apex * 180 / kPi}};
        p.base_deg = base_deg;
        p.back_centre_mm = {x_mm, 0, -27};
        s.prisms = {p};
        const double to_base = base_deg == 0.0 ? 1 : -1;  // in the picture's x
        const double expected = to_base * trace_wedge(to_base * pupil, to_base * -x_mm, apex, 19.0);
        const std::array<double, 2> at = to_pixel(s, -expected, 0);
        const double seen = to_mm(s, find_widening(s, eye, at[0], at[1]).x);
        INFO(power << " dioptres, base to " << to_base << " before " << x_mm << ": from " << pupil
                   << " to " << seen << ", refraction says " << expected);
        CHECK(to_base * (seen - pupil) < 0);
        CHECK(std::abs(seen - expected) < std::max(0.02 * std::abs(expected - pupil), 0.03));
      }
    }
    // Up and down: the same wedge, looked through from the height of the eye.
    const auto to_up = [&s](double y_px) {
      return (0.5 * kHeight - y_px - 0.5) / s.view.pixels_per_mm;
    };
    s.prisms.clear();
    const double height = to_up(find_widening(s, eye, home[0], home[1]).y);
    for (const double base_deg : {90.0, 270.0}) {
      for (const double power : {4.0, 12.0, 20.0, 30.0, 40.0}) {
        scene::Prism p;
        p.eye = x_mm > 0 ? scene::Eye::kRight : scene::Eye::kLeft;
        const double apex = power / 100 / 0.49;
        p.steps = {{power, apex * 180 / kPi}};
        p.base_deg = base_deg;
        p.back_centre_mm = {x_mm, 0, -27};
        s.prisms = {p};
        const double to_base = base_deg == 90.0 ? 1 : -1;  // upwards
        const double expected = to_base * trace_wedge(to_base * height, 0, apex, 19.0);
        const std::array<double, 2> at = to_pixel(s, x_mm, expected);
        const double seen = to_up(find_widening(s, eye, at[0], at[1]).y);
        INFO(power << " dioptres, base " << base_deg << " before " << x_mm << ": from " << height
                   << " up to " << seen << ", refraction says " << expected);
        CHECK(to_base * (seen - height) < 0);
        CHECK(std::abs(seen - expected) < std::max(0.02 * std::abs(expected - height), 0.03));
      }
    }
    s.prisms.clear();
  }
}

TEST_CASE("spectacles displace and shrink or enlarge the eye as their power says") {
  const WithQuality with(find_next_quality());
  for (const double power : {-8.0, -3.0, 2.0, 6.0}) {
    for (const double centre : {0.0, 5.0, -5.0}) {
      scene::Scene s = make_one_eye(31);
      const double pupil = to_mm(s, find_eye(s, 31).x);
      s.spectacles.worn = true;
      for (scene::Lens& lens : s.spectacles.lenses) {
        lens.power_xx_d = lens.power_yy_d = power;
        lens.centre_x_mm = centre;
      }
      // Right is -x in the picture; the optical centre is told towards the patient's right.
      const double expected = trace_lens(pupil, power, -31 - centre);
      const std::array<double, 2> at = to_pixel(s, -expected, 0);
      const double seen =
          to_mm(s, find_pupil(studio().draw(s), at[0], at[1], s.view.pixels_per_mm, 60).x);
      INFO(power << " D decentred by " << centre << ": from " << pupil << " to " << seen
                 << ", expected " << expected);
      CHECK(std::abs(seen - expected) < std::max(0.02 * std::abs(expected - pupil), 0.06));
    }
  }
  scene::Scene s = make_one_eye(31);
  const double px = s.view.pixels_per_mm;
  const auto width = [&] {
    const draw::Pixels p = studio().draw(s);
    const std::array<double, 2> at = to_pixel(s, 31, 0);
    const Centroid c = find_pupil(p, at[0], at[1], px, 60);
    const std::array<double, 2> e = find_limbus(p, c.x, c.y, px);
    return e[1] - e[0];
  };
  const double bare = width();
  s.spectacles.worn = true;
  for (const double power : {-6.0, 5.0}) {
    for (scene::Lens& lens : s.spectacles.lenses) lens.power_xx_d = lens.power_yy_d = power;
    // A lens d before the iris: 1 / (1 - d F), d 15 mm. The row measured is a fixed one.
    const double expected = 1 / (1 - 0.015 * power);
    INFO(power << " D: " << width() / bare << ", expected about " << expected);
    CHECK(width() / bare == Approx(expected).margin(0.035));
  }
}

TEST_CASE("a reflection in spectacles hides part of an eye until the head tilts") {
  scene::Scene s = make_one_eye(31);
  s.spectacles.worn = true;
  const auto hidden = [&](double chin_deg) {
    s.head.chin_deg = chin_deg;
    s.spectacles.worn = false;
    const draw::Pixels bare = studio().draw(s);
    s.spectacles.worn = true;
    const draw::Pixels worn = studio().draw(s);
    int n = 0;
    for (int y = 0; y < kHeight; ++y) {
      for (int x = 0; x < kWidth; ++x) {
        const double dx = to_mm(s, x) + 31;
        const double dy = (0.5 * kHeight - y) / s.view.pixels_per_mm;
        if (std::hypot(dx / 12.5, dy / 6.5) > 1) continue;
        if (calc_light(worn.at(x, y)) > calc_light(bare.at(x, y)) + 40) ++n;
      }
    }
    return n / (s.view.pixels_per_mm * s.view.pixels_per_mm);  // mm2
  };
  CHECK(hidden(0) > 12);
  CHECK(hidden(-9) < 4);
}

TEST_CASE("behind spectacles and prisms too, eyes that move change only what shows them") {
  scene::Scene s = make_scene();
  s.spectacles.worn = true;
  s.spectacles.lenses[0].power_xx_d = s.spectacles.lenses[0].power_yy_d = -6;
  s.spectacles.lenses[1].power_xx_d = s.spectacles.lenses[1].power_yy_d = 6;
  s.trial_lens_d = {1, 0};
  const draw::Pixels straight = studio().draw(s);
  for (const double pd : {2.0, 20.0}) {
    s.eyes[0].horizontal_deg = to_degrees(pd);
    s.eyes[1].horizontal_deg = -to_degrees(pd);
    CHECK(count_differences(straight, studio().draw(s), [&](int x, int y) {
            for (const double eye : {31.0, -31.0}) {
              const std::array<double, 2> at = to_pixel(s, eye, 0);
              if (std::abs(x - at[0]) < 19 * s.view.pixels_per_mm &&
                  std::abs(y - at[1]) < 10 * s.view.pixels_per_mm) {
                return false;
              }
            }
            return true;
          }) == 0);
  }
}

TEST_CASE("a picture with spectacles does not depend on the pictures before it") {
  scene::Scene s = make_scene();
  s.spectacles.worn = true;
  s.spectacles.lenses[0].power_xx_d = s.spectacles.lenses[0].power_yy_d = -7;
  s.spectacles.lenses[1].power_xx_d = s.spectacles.lenses[1].power_yy_d = 7;
  s.spectacles.lenses[1].centre_x_mm = 4;
  studio().draw(make_scene());
  const draw::Pixels fresh = studio().draw(s);
  scene::Scene other = s;
  other.eyes[0].horizontal_deg = 25;
  other.eyes[1].horizontal_deg = -25;
  studio().draw(other);
  CHECK(studio().draw(s) == fresh);
  other.eyes[1].lid_open_fraction = 0.3;
  studio().draw(other);
  CHECK(studio().draw(s) == fresh);
  other.occluder.present = true;
  studio().draw(other);
  CHECK(studio().draw(s) == fresh);
  other.spectacles.worn = false;
  studio().draw(other);
  CHECK(studio().draw(s) == fresh);
}

TEST_CASE("a leaning examiner sees past the edge of the occluder") {
  scene::Scene s = make_scene();
  s.occluder.present = true;
  s.occluder.centre_mm = {31, 0, -60};
  const auto seen = [&] {  // how much of the covered eye shows
    s.eyes[0].horizontal_deg = 0;
    const draw::Pixels a = studio().draw(s);
    s.eyes[0].horizontal_deg = 25;
    const draw::Pixels b = studio().draw(s);
    return count_differences(a, b, [](int, int) { return true; });
  };
  CHECK(seen() == 0);
  s.examiner_mm.x = 320;  // from the patient's right
  CHECK(seen() > 100);
}

TEST_CASE("the driver says nothing about spectacles") {
  const std::vector<std::string> messages = studio().check_messages();
  for (const std::string& m : messages) UNSCOPED_INFO(m);
  CHECK(messages.empty());
}
