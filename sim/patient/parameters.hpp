// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is constant about one patient. Angles in degrees, powers in dioptres, times in seconds;
// signs in sim/basics/eye.hpp. Nothing here names a condition: conditions emerge from the numbers.
//
// The case's clinical units become these in sim/cases/setup.cpp. Defaults that no case sets are
// given here with their source; ranges are those a case is checked against.
#pragma once

#include <array>
#include <cstdint>
#include <optional>

#include "sim/basics/eye.hpp"
#include "sim/basics/units.hpp"
#include "sim/patient/behaviour.hpp"
#include "sim/patient/control.hpp"
#include "sim/patient/eye_plant.hpp"
#include "sim/patient/pupil_faults.hpp"
#include "sim/patient/unsteady.hpp"

namespace redress::patient {

/// Blur, break and recovery of one direction as a prism bar measures them from the fused position:
/// labels of plastic prisms.
struct Reserve {
  std::optional<PrismDioptres> blur;
  PrismDioptres break_point;
  PrismDioptres recovery;
};

/// Reserves at one distance.
struct Reserves {
  Reserve base_out;
  Reserve base_in;
};

/// Vergence that the resting tonus lacks or exceeds at one distance.
struct TonusCorrection {
  double nearness_d = 0.0;  ///< 1 / distance in metres
  double vergence_deg = 0.0;
};

/// Resting vergence: V = tonic + AC/A x accommodation + proximal x nearness + correction(nearness).
/// After Maddox (1893), all terms but the fusional one.
struct Tonus {
  double tonic_deg = 0.0;
  double proximal_deg_per_d = 0.0;
  double ac_a_deg_per_d = 0.0;  ///< per dioptre of *response*
  double vertical_deg = 0.0;    ///< right eye higher +
  /// Linear in nearness between points, constant outside; sorted by nearness.
  std::array<TonusCorrection, 17> correction{};
  std::int32_t corrections = 0;
};

/// Motor fusion: disparity vergence with a memory of its demand.
struct Fusion {
  bool present = true;
  Reserves distance;  ///< at 6 m; between 6 m and 40 cm linear in nearness
  Reserves near;      ///< at 40 cm and nearer
  /// At 20 m and beyond; between 6 and 20 m linear in nearness. None: as at 6 m.
  std::optional<Reserves> far_distance;
  PrismDioptres right_supra_break{3.0};
  PrismDioptres right_supra_recovery{1.5};
  PrismDioptres right_infra_break{3.0};
  PrismDioptres right_infra_recovery{1.5};
  double anomaly_deg = 0.0;         ///< eso +: vergence is held at this angle instead of at zero
  double habitual_prism_deg = 0.0;  ///< of the glasses that are worn, base out +: used to it
  double release_s = 0.9;           ///< Economides 2017, Tatara 2025: 0.6 ... 1.3 s
  double recovery_s = 0.2;          ///< a 4 degree step then peaks at 20 deg/s (Alvarez; Hung 1998)
  double vertical_recovery_s = 1.2;  ///< about 8 s for a step (Perlmutter & Kertesz 1978)
};

/// Which eye is used, and what is ignored.
struct Sensory {
  Eye preferred = Eye::right;
  double preference = 0.9;    ///< how often the preferred eye is found fixing; 0.5: either holds
  PerEye<bool> suppresses{};  ///< while the eyes are apart, this eye's image can be ignored
  double suppression_reach_deg = 0.0;  ///< from the fovea: how far that goes
  /// A scotoma that stays while the eyes are held together: reach from the fovea, 0 without.
  PerEye<double> scotoma_reach_deg{};
  /// Eccentric fixation: this eye alone looks so far past the target, + to the right.
  PerEye<double> eccentric_turn_deg{};
  PerEye<bool> monocular_diplopia{};  ///< sees two of everything with this eye alone
  PerEye<double> acuity_logmar{};     ///< best corrected
  PerEye<double> latency_extra_s{};   ///< of saccades driven by this eye's image
  PerEye<double> landing_sd_deg{};    ///< scatter of a saccade's end, seen with this eye
};

/// Sources: Carpenter & Williams 1995 (LATER), Shinomiya (alternating cover), Collewijn 1988
/// (gain), Dai et al. 2016 (waveform). eta and c are set so that the saccades *made* fall within
/// one SD of the six rows of Hopf et al. 2018.
struct Saccades {
  double latency_s = 0.205;
  double latency_rate_sd = 0.22;        ///< of 1/latency, as a fraction of its mean
  double corrective_latency_s = 0.150;  ///< Becker & Fuchs 1969
  double corrective_latency_sd_s = 0.030;
  double gain = 0.93;
  double gain_sd = 0.03;
  double threshold_deg = 0.4;
  double asymptotic_speed_deg_s = 470.0;  ///< eta
  double amplitude_constant_deg = 9.0;    ///< c
};

/// How far the eyes are sent together. Adduction 45 to 50, abduction 44 to 50, elevation 35 to 42,
/// depression 47 to 60 (Clark & Isenberg 2001; Lim 2014, from memory). An eye whose muscles are not
/// healthy may be told more.
struct GazeRange {
  double aside_deg = 47.0;
  double up_deg = 40.0;
  double down_deg = 52.0;
};

struct Accommodation {
  double tonic_d = 0.75;
  double slope = 0.85;                  ///< lag near, lead far (Ciuffreda)
  double amplitude_d = 11.6;            ///< Hofstetter's mean for the age
  double convergence_d_per_deg = 0.14;  ///< CA/C 0.08 D per prism dioptre
  double rise_s = 0.28;
  double fall_s = 0.22;
  double spasm_d = 0.0;  ///< accommodation that does not let go, whatever is looked at; 0: none
};

struct Instability {
  double attention = 1.0;           ///< 1 never wanders
  double drift_speed_deg_s = 0.15;  ///< gives 2 to 3 minutes of arc in a second (Riggs 1954)
  double blinks_per_minute = 12.0;  ///< Ousler 2014: 14; Doughty 2002: 10
  double vergence_sd_deg = 0.15;    ///< slow wander of the resting vergence, see sources of noise
};

/// What the muscles make of a command; nothing of it in a patient whose muscles are healthy.
struct Muscles {
  /// Made when the case is loaded, never changed; none for a healthy eye.
  PerEye<std::optional<EyePlant>> plant;
  /// The same eye when it has tired; none in an eye that does not tire.
  PerEye<std::optional<EyePlant>> tired;
  double tilt_gain = 1.0;  ///< of the innervation that goes with a tilted head
  double skew_deg = 0.0;   ///< the right eye stands higher by this, whatever its muscles

  [[nodiscard]] bool in_force() const {
    return plant.right || plant.left || tired.right || tired.left || skew_deg != 0.0;
  }
};

struct Parameters {
  double age_years = 23.0;
  double interpupillary_mm = 63.0;
  Tonus tonus;
  Fusion fusion;
  Sensory sensory;
  Saccades saccades;
  GazeRange range;
  Accommodation accommodation;
  Instability instability;
  Unsteadiness unsteadiness;
  Control control;
  Behaviour behaviour;
  PupilFaults pupils;
  Lids lids;
  Muscles muscles;
};

/// What the draws of one examination are made with.
struct Chance {
  std::uint64_t seed = 1;
  double noise = 1.0;           ///< 1 as in the case, 0 off
  bool slow_adaptation = true;  ///< prism adaptation; off when the truth is computed
};

}  // namespace redress::patient
