// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// People, gazes and instruments as one sheet in the build folder, to look at; and small pictures
// that were looked at, to compare with.
#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <string>

#include "render/face/people.hpp"
#include "tests/render/picture_fixture.hpp"
#include "tests/support/places.hpp"

using namespace redress;
using namespace redress::test;

namespace {

struct Moment {
  const char* name;
  scene::Scene scene;
};

scene::Prism make_prism(scene::Eye eye, double power_pd, double base_deg) {
  scene::Prism p;
  p.eye = eye;
  p.steps = {{power_pd, power_pd / 100 / 0.49 * 57.29577951308232}};
  p.base_deg = base_deg;
  p.back_centre_mm = {eye == scene::Eye::kRight ? 31.0 : -31.0, 0, -27};
  return p;
}

std::vector<Moment> make_moments() {
  scene::Scene s = make_scene();
  s.light.penlight = true;
  std::vector<Moment> all{{"straight", s}};
  const auto add = [&all, &s](const char* name, auto change) {
    all.push_back({name, s});
    change(all.back().scene);
  };
  add("down", [](scene::Scene& m) {
    for (scene::EyePose& e : m.eyes) e.vertical_deg = -28;
  });
  add("aside", [](scene::Scene& m) {
    for (scene::EyePose& e : m.eyes) e.horizontal_deg = 25;
  });
  add("half_shut", [](scene::Scene& m) {
    for (scene::EyePose& e : m.eyes) e.lid_open_fraction = 0.45;
  });
  add("covered", [](scene::Scene& m) {
    m.occluder.present = true;
    m.occluder.centre_mm = {31, 0, -33.5};
    m.occluder.handle_deg = 45;
  });
  add("frosted", [](scene::Scene& m) {
    m.occluder.present = m.occluder.translucent = true;
    m.occluder.centre_mm = {-28, 12, -33.5};
    m.occluder.handle_deg = -45;
  });
  add("prism", [](scene::Scene& m) {
    m.prisms = {make_prism(scene::Eye::kRight, 40, 180), make_prism(scene::Eye::kLeft, 8, 90)};
  });
  add("spectacles", [](scene::Scene& m) {
    m.spectacles.worn = true;
    for (scene::Lens& lens : m.spectacles.lenses) {
      lens.power_xx_d = lens.power_yy_d = -5;
      lens.design = scene::LensDesign::kBifocal;
      lens.add_d = 2;
      lens.near_top_mm = -6;
    }
  });
  return all;
}

/// Every `by` x `by` pixels as one.
draw::Pixels shrink(const draw::Pixels& p, int by) {
  draw::Pixels out{p.width / by, p.height / by, {}};
  for (int y = 0; y < out.height; ++y) {
    for (int x = 0; x < out.width; ++x) {
      std::array<int, 3> sum{};
      for (int k = 0; k < by * by; ++k) {
        const auto q = p.at(x * by + k % by, y * by + k / by);
        for (std::size_t c = 0; c < 3; ++c) sum[c] += q[c];
      }
      for (const int c : sum) {
        out.rgb.push_back(static_cast<std::uint8_t>((c + by * by / 2) / (by * by)));
      }
    }
  }
  return out;
}

std::filesystem::path folder() {
  const std::filesystem::path p = support::screens_dir();
  std::filesystem::create_directories(p);
  return p;
}

/// A binary PPM of three bytes a pixel.
draw::Pixels read_ppm(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  draw::Pixels p;
  std::string magic;
  int most = 0;
  in >> magic >> p.width >> p.height >> most;
  in.get();
  if (!in || magic != "P6" || most != 255 || p.width <= 0 || p.height <= 0) return {};
  p.rgb.resize(static_cast<std::size_t>(p.width) * static_cast<std::size_t>(p.height) * 3);
  in.read(reinterpret_cast<char*>(p.rgb.data()), static_cast<std::streamsize>(p.rgb.size()));
  return in ? p : draw::Pixels{};
}

void write_ppm(const std::filesystem::path& path, const draw::Pixels& p) {
  std::ofstream out(path, std::ios::binary);
  out << "P6\n" << p.width << " " << p.height << "\n255\n";
  out.write(reinterpret_cast<const char*>(p.rgb.data()),
            static_cast<std::streamsize>(p.rgb.size()));
}

}  // namespace

// Another driver rounds and filters a little differently; a face with another nose, an eye that
// looks elsewhere or an instrument that is not there is far outside. To take new ones, look at them
// in the build folder and copy them.
TEST_CASE("pictures are those that were looked at") {
  constexpr double kMeanLevels = 1.0;
  constexpr int kMostLevels = 16;
  for (const Moment& moment : make_moments()) {
    const draw::Pixels now = shrink(studio().draw(moment.scene), 10);
    const std::string name = std::string("golden_") + moment.name + ".ppm";
    write_ppm(folder() / name, now);
    const std::filesystem::path kept =
        std::filesystem::path(support::source_dir()) / "tests" / "render" / "golden" / name;
    const draw::Pixels then = read_ppm(kept);
    INFO(kept.string());
    CHECK(then.width == now.width);
    CHECK(then.height == now.height);
    if (then.rgb.size() != now.rgb.size()) continue;
    double sum = 0;
    int most = 0;
    for (std::size_t k = 0; k < now.rgb.size(); ++k) {
      const int d = std::abs(int{now.rgb[k]} - int{then.rgb[k]});
      sum += d;
      most = std::max(most, d);
    }
    CHECK(sum / static_cast<double>(now.rgb.size()) < kMeanLevels);
    CHECK(most <= kMostLevels);
  }
}

TEST_CASE("a sheet of people, gazes and instruments is left in the build folder") {
  std::vector<Moment> moments = make_moments();
  const auto add = [&moments](const char* name, auto change) {
    moments.push_back({name, moments.front().scene});
    change(moments.back().scene);
  };
  add("up", [](scene::Scene& m) {
    for (scene::EyePose& e : m.eyes) e.vertical_deg = 22;
  });
  add("tilted", [](scene::Scene& m) {
    m.head.roll_deg = 15;
    for (scene::EyePose& e : m.eyes) e.torsion_deg = -2;
  });
  add("hand", [](scene::Scene& m) {
    m.occluder.present = true;
    m.occluder.centre_mm = {8, 34, -33.5};
    m.occluder.handle_deg = 22;
    m.view.centre_y_mm = -4;
  });
  add("dim", [](scene::Scene& m) {
    m.light.room = 0.35;
    for (scene::EyePose& e : m.eyes) e.pupil_mm = 6;
  });
  // Both sexes, all ages, every stock: among them children of two, five and nine.
  const std::array<std::size_t, 12> who{0, 1, 2, 3, 5, 7, 9, 12, 14, 17, 25, 30};
  studio();  // the context
  const gl::RenderTarget target(kWidth, kHeight, 1);
  draw::Pixels sheet{
      320 * static_cast<int>(moments.size()), 180 * static_cast<int>(who.size()), {}};
  sheet.rgb.resize(static_cast<std::size_t>(sheet.width * sheet.height) * 3);
  std::vector<draw::Pixels> column;
  for (std::size_t row = 0; row < who.size(); ++row) {
    draw::PatientPicture picture(face::people().at(who[row]).look);
    for (std::size_t k = 0; k < moments.size(); ++k) {
      moments[k].scene.spectacles.frame_mm =
          static_cast<double>(face::people().at(who[row]).look.interpupillary_mm);
      picture.draw(moments[k].scene, kWidth, kHeight, target.framebuffer());
      const draw::Pixels one = shrink(draw::read_pixels(target.framebuffer(), kWidth, kHeight), 3);
      for (int y = 0; y < one.height; ++y) {
        const auto from = one.rgb.begin() + static_cast<std::ptrdiff_t>(y) * one.width * 3;
        const std::ptrdiff_t at =
            (static_cast<std::ptrdiff_t>(row) * 180 + y) * sheet.width + 320 * static_cast<int>(k);
        std::copy(from, from + one.width * 3, sheet.rgb.begin() + at * 3);
      }
      if (row == 0) column.push_back(one);
    }
  }
  for (std::size_t a = 0; a < column.size(); ++a) {
    for (std::size_t b = a + 1; b < column.size(); ++b) CHECK(column[a] != column[b]);
  }
  CHECK(draw::write_png((folder() / "gallery.png").string(), sheet));
}
