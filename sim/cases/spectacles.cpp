// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/cases/spectacles.hpp"

#include <utility>

#include <fmt/format.h>

#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_words.hpp"
#include "sim/optics/prism.hpp"
#include "sim/optics/sight.hpp"

namespace redress {
namespace {

// Beyond this share of the power that turns the picture upside down at the centre of rotation no
// spectacle lens is worn (+30 at 13 mm, +20 at 25 mm): judgement.
constexpr double kGreatestShare = 0.8;

class Checker {
 public:
  Checker(const Case& the_case, Problems& problems)
      : case_(the_case), spectacles_(the_case.spectacles), problems_(problems) {}

  void check() {
    check_owned();
    check_design();
    if (spectacles_.contact_lenses) check_contact_lenses();
    check_strength();
  }

 private:
  void refuse(std::string place, std::string message) {
    problems_.push_back({"/refraction/spectacles" + std::move(place), std::move(message)});
  }

  void check_owned() {
    if (spectacles_.owned()) return;
    if (spectacles_.worn.value_or(false)) {
      refuse("/worn", "is true, but no lens is given; allowed: false, or a lens before either eye");
    }
    if (spectacles_.contact_lenses) {
      refuse("/contact_lenses",
             "is true, but no lens is given; allowed: false, or a lens for either eye");
    }
    if (spectacles_.add.value != 0.0) {
      refuse("/add_d", "is " + to_text(spectacles_.add.value) +
                           ", but no lens is given; allowed: 0, or a lens before either eye");
    }
    require_pupils("no lens is given; allowed: the interpupillary distance, or a lens");
  }

  void check_design() {
    const std::string name{find_name(kDesignWords, spectacles_.design)};
    const bool single = spectacles_.design == SpectacleDesign::single;
    if (single && spectacles_.add.value != 0.0 && spectacles_.owned()) {
      refuse("/add_d", "is " + to_text(spectacles_.add.value) +
                           ", but the design is single; allowed: 0 (the power of reading "
                           "spectacles is their sphere), or a bifocal or progressive design");
    }
    if (!single && spectacles_.add.value == 0.0) {
      refuse("/design", "is \"" + name +
                            "\" without an addition; allowed: \"single\", or an add_d above 0");
    }
    const auto belongs = [&](const char* key, const std::optional<Millimetres>& written, bool has,
                             const char* designs) {
      if (!written || has) return;
      refuse(std::string("/") + key, "is " + to_text(written->value) + ", but the design is " +
                                         name + "; allowed: null, or " + designs);
    };
    const bool bifocal = spectacles_.design == SpectacleDesign::bifocal;
    const bool progressive = spectacles_.design == SpectacleDesign::progressive;
    belongs("segment_top_mm", spectacles_.segment_top, bifocal, "a bifocal design");
    belongs("fitting_cross_mm", spectacles_.fitting_cross, progressive, "a progressive design");
    belongs("corridor_mm", spectacles_.corridor, progressive, "a progressive design");
    belongs("inset_mm", spectacles_.inset, !single, "a bifocal or progressive design");
  }

  // What moves with the eye has neither a place to look beside nor, here, a prism.
  void check_contact_lenses() {
    const auto require_none = [&](const std::string& place, double value) {
      if (value == 0.0) return;
      refuse(place, "is " + to_text(value) + " of a contact lens; allowed: 0");
    };
    for (const Eye eye : kBothEyes) {
      const auto& lens = spectacles_.lens[eye];
      if (!lens) continue;
      const std::string place = std::string("/") + name_of(eye);
      require_none(place + "/prism_pd", lens->prism.value);
      require_none(place + "/optical_centre_height_mm", lens->optical_centre_height.value);
    }
    if (spectacles_.design != SpectacleDesign::single) {
      refuse("/design", "is \"" + std::string{find_name(kDesignWords, spectacles_.design)} +
                            "\" of contact lenses; allowed: \"single\"");
    }
    if (spectacles_.owned()) {
      require_pupils("contact lenses go with the eyes; allowed: the interpupillary distance");
    }
  }

  void require_pupils(const std::string& reason) {
    const auto& centres = spectacles_.optical_centres;
    if (!centres || *centres == case_.patient.interpupillary_distance) return;
    refuse("/optical_centres_mm", "is " + to_text(centres->value) + ", but " + reason);
  }

  void check_strength() {
    if (spectacles_.contact_lenses) return;
    const double d_m = (spectacles_.vertex_distance.value + optics::kCorneaToCentreMm) / 1000.0;
    for (const Eye eye : kBothEyes) {
      const auto& lens = spectacles_.lens[eye];
      if (!lens) continue;
      const double cylinder = lens->cylinder.value;
      const double strongest =
          lens->sphere.value + (cylinder > 0.0 ? cylinder : 0.0) + spectacles_.add.value;
      if (strongest * d_m <= kGreatestShare) continue;
      const auto hundredths = static_cast<long>(100.0 * kGreatestShare / d_m);
      refuse(std::string("/") + name_of(eye) + "/sphere_d",
             "makes with cylinder and addition " + to_text(strongest) +
                 " at this vertex distance, through which nobody looks; "
                 "allowed: together at most " +
                 to_text(static_cast<double>(hundredths) / 100.0));
    }
  }

  const Case& case_;
  const CaseSpectacles& spectacles_;
  Problems& problems_;
};

std::string format_powers(Dioptres sphere, Dioptres cylinder, Degrees axis) {
  if (cylinder.value == 0.0) return fmt::format("{:+.2f}", sphere.value);
  return fmt::format("{:+.2f}/{:+.2f}x{:.0f}", sphere.value, cylinder.value, axis.value);
}

optics::LensDesign to_design(SpectacleDesign design) {
  switch (design) {
    case SpectacleDesign::bifocal: return optics::LensDesign::bifocal;
    case SpectacleDesign::progressive: return optics::LensDesign::progressive;
    case SpectacleDesign::single: break;
  }
  return optics::LensDesign::single;
}

}  // namespace

void check_spectacles(const Case& the_case, Problems& problems) {
  Checker(the_case, problems).check();
}

std::optional<optics::Lens> make_lens(const Case& the_case, Eye eye) {
  const CaseSpectacles& s = the_case.spectacles;
  const auto& written = s.lens[eye];
  if (!written) return std::nullopt;
  optics::Lens lens;
  lens.contact = s.contact_lenses;
  lens.power = optics::to_powers(written->sphere, written->cylinder, written->axis);
  const Vector base = optics::base_direction(written->base);
  lens.prism_x = written->prism.value / 100.0 * base.x;
  lens.prism_y = written->prism.value / 100.0 * base.y;
  const double pupils = the_case.patient.interpupillary_distance.value;
  const double centres = s.optical_centres ? s.optical_centres->value : pupils;
  lens.centre_x_mm = side_of(eye) * (0.5 * (centres - pupils));
  lens.centre_y_mm = written->optical_centre_height.value;
  lens.vertex_mm = s.vertex_distance.value;
  lens.design = to_design(s.design);
  lens.add_d = s.add.value;
  // The near part is set towards the nose from the distance part's centre.
  lens.near_x_mm = lens.centre_x_mm - side_of(eye) * s.inset.value_or(kUsualInset).value;
  const bool bifocal = s.design == SpectacleDesign::bifocal;
  lens.near_top_mm = bifocal ? s.segment_top.value_or(kUsualSegmentTop).value
                             : s.fitting_cross.value_or(kUsualFittingCross).value;
  lens.corridor_mm = s.corridor.value_or(kUsualCorridor).value;
  if (optics::is_plano(lens)) return std::nullopt;
  return lens;
}

optics::PowerMatrix calc_correction(const Case& the_case, Eye eye) {
  const CaseEyeRefraction& r = the_case.refraction[eye];
  return optics::carried(optics::to_powers(r.sphere, r.cylinder, r.axis),
                         the_case.spectacles.vertex_distance.value);
}

std::string format_refraction(const Case& the_case, Eye eye) {
  const CaseEyeRefraction& r = the_case.refraction[eye];
  return format_powers(r.sphere, r.cylinder, r.axis);
}

std::string format_spectacle_lens(const Case& the_case, Eye eye) {
  const CaseSpectacles& s = the_case.spectacles;
  const auto& lens = s.lens[eye];
  if (!lens) return "none";
  std::string text = format_powers(lens->sphere, lens->cylinder, lens->axis);
  if (s.contact_lenses) text += " contact lens";
  if (lens->prism.value != 0.0) {
    text += fmt::format(" prism {:g} base {:g} deg", lens->prism.value, lens->base.value);
  }
  if (s.add.value != 0.0) text += fmt::format(" add {:+.2f}", s.add.value);
  return text;
}

}  // namespace redress
