// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/picture_verb.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <vector>

#include "render/draw/patient_picture.hpp"
#include "render/draw/png.hpp"
#include "render/gl/offscreen.hpp"
#include "render/gl/texture.hpp"
#include "render/screens/examine/scene.hpp"
#include "sim/basics/file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/program/verbs.hpp"
#include "sim/record/act_json.hpp"
#include "sim/record/run.hpp"

namespace redress::app {

namespace {

// What the room shows of the patient: 120 mm across or 50 mm high, the eyes at 43 % of the height.
constexpr double kAcrossMm = 120;
constexpr double kHighMm = 50;
constexpr double kEyeLine = 0.43;

/// The picture wants no rows; the run wants a sink.
struct NoSink {};

Examination run_to(const ExaminationSetup& setup, const std::vector<Act>& acts, Chance chance,
                   Tick until) {
  Examination exam(setup, chance, first_target(acts));
  NoSink sink;
  std::size_t next = 0;
  for (;;) {
    record::observe_tick(exam, sink);
    for (; next < acts.size() && acts[next].at_ms <= exam.now(); ++next) {
      record::perform(exam, acts[next], sink);
    }
    if (exam.now() >= until) return exam;
    record::finish_tick(exam, sink);
  }
}

draw::Pixels draw_moment(const Case& the_case, const ExaminationSetup& setup,
                         const Examination& exam, int width, int height) {
  gl::OffscreenContext context;
  draw::PatientPicture picture(screens::examine::make_appearance(the_case));
  screens::examine::SceneChoice choice;
  choice.width_px = width;
  choice.height_px = height;
  const double scale = std::min(width / kAcrossMm, height / kHighMm);
  choice.view = {width / 2.0, kEyeLine * height, 0, 0, scale};
  const scene::Scene scene =
      screens::examine::make_scene(exam.observe(), exam.room(), setup.room, choice);
  gl::RenderTarget target(width, height, 1);
  picture.draw(scene, width, height, target.framebuffer());
  return draw::read_pixels(target.framebuffer(), width, height);
}

}  // namespace

int draw_picture(const PictureOptions& options) {
  const Result<program::LoadedCase> loaded = program::load_case(options.case_path);
  if (!loaded) return program::report(options.case_path, loaded.problems());
  std::vector<Act> acts;
  if (!options.acts_path.empty()) {
    const Result<std::string> text = read_file(options.acts_path);
    if (!text) return program::report(options.acts_path, text.problems());
    Result<std::vector<Act>> parsed = record::parse_acts(text.value());
    if (!parsed) return program::report(options.acts_path, parsed.problems());
    acts = std::move(parsed).value();
  }
  const Case& the_case = loaded.value().content;
  const ExaminationSetup setup = setup_of(the_case);
  const Chance chance{options.seed.value_or(the_case.seed), options.noise, true};
  const Examination exam = run_to(setup, acts, chance, options.at_ms);
  try {
    const draw::Pixels pixels = draw_moment(the_case, setup, exam, options.width, options.height);
    const std::vector<std::uint8_t> png = draw::format_png(pixels);
    const std::string_view bytes{reinterpret_cast<const char*>(png.data()), png.size()};
    if (png.empty()) {
      return program::report(options.out_path, Problem{"", "the picture cannot be coded"});
    }
    if (const auto problem = write_whole_file(options.out_path, bytes)) {
      return program::report(options.out_path, *problem);
    }
  } catch (const gl::Error& error) {
    fmt::print(stderr, "redress: no picture can be drawn here: {}\n", error.what());
    return 1;
  }
  return 0;
}

}  // namespace redress::app
