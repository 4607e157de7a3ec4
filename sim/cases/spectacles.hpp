// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Refraction and spectacles of a case: what contradicts itself, what the engine gets of them, and
// how they read on file.
//
// A refraction is written as the lens that corrects the eye at the vertex distance of the case,
// whether or not spectacles are owned; contact lenses are written as they are on the cornea.
#pragma once

#include <optional>
#include <string>

#include "sim/basics/problem.hpp"
#include "sim/cases/case.hpp"
#include "sim/optics/lens.hpp"

namespace redress {

/// Adds what contradicts itself.
void check_spectacles(const Case& the_case, Problems& problems);

/// The lens of this eye; none where the case gives none or one without power and prism.
std::optional<optics::Lens> make_lens(const Case& the_case, Eye eye);

/// What corrects the eye for distance, at the cornea.
optics::PowerMatrix calc_correction(const Case& the_case, Eye eye);

/// "-2.00", "-2.00/-1.50x90": sphere, cylinder, axis.
std::string format_refraction(const Case& the_case, Eye eye);
/// The same with prism and addition, as a focimeter finds them; "none" without a lens.
std::string format_spectacle_lens(const Case& the_case, Eye eye);

}  // namespace redress
