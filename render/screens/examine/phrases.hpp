// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What can be said to a patient, asked or looked up, and how far away a target can stand: the same
// for every patient, so that nothing on the screen depends on who sits there.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "sim/room/act.hpp"

namespace redress::screens::examine {

enum class PhraseKind : std::uint8_t { instruct, ask, history, request };

struct Phrase {
  PhraseKind kind;
  Instruction instruction;  ///< if it is one
  std::string_view what;    ///< question or request
  std::string_view words;   ///< as said; of a request, what is asked for
  std::string_view label;   ///< on its button
  std::string_view brief;   ///< on the shelf of a small window
};

/// The first eight are on X then 1 to 8. Words: common practice, no source.
inline constexpr std::array kPhrases{
    Phrase{PhraseKind::instruct, Instruction::look, "", "Look at the target.", "Look at the target",
           "Look"},
    Phrase{PhraseKind::instruct, Instruction::keep_clear, "", "Keep it clear.", "Keep it clear",
           "Keep clear"},
    Phrase{PhraseKind::instruct, Instruction::follow, "", "Follow it with your eyes.", "Follow it",
           "Follow"},
    Phrase{PhraseKind::instruct, Instruction::line_ends, "", "Look from end to end.",
           "Look from end to end", "Ends"},
    Phrase{PhraseKind::instruct, Instruction::hold_still, "", "Keep your head still.", "Head still",
           "Head still"},
    Phrase{PhraseKind::ask, Instruction::look, "single_or_double", "Is it single or double?",
           "Single or double?", "Single?"},
    Phrase{PhraseKind::ask, Instruction::look, "clear", "Is it clear?", "Clear?", "Clear?"},
    Phrase{PhraseKind::ask, Instruction::look, "jump", "Did it jump?", "Did it jump?", "Jumped?"},
    Phrase{PhraseKind::ask, Instruction::look, "which_eye_removes_it",
           "Does it go if I cover one eye?", "Gone with one eye?", "One eye?"},
    Phrase{PhraseKind::ask, Instruction::look, "arrangement", "How do the two stand?",
           "How do they stand?", "How stand?"},
    Phrase{PhraseKind::ask, Instruction::look, "where_worst", "Where is it worst?", "Where worst?",
           "Worst?"},
    Phrase{PhraseKind::history, Instruction::look, "onset", "When did it begin?", "Beginning",
           "Beginning"},
    Phrase{PhraseKind::history, Instruction::look, "double_vision", "Do you ever see two?",
           "Seeing two", "Seeing two"},
    Phrase{PhraseKind::history, Instruction::look, "variation", "When is it worse?", "When worse",
           "When worse"},
    Phrase{PhraseKind::history, Instruction::look, "tired_eyes", "Do your eyes tire?", "Tired eyes",
           "Tired eyes"},
    Phrase{PhraseKind::history, Instruction::look, "headache", "Any headaches?", "Headaches",
           "Headaches"},
    Phrase{PhraseKind::history, Instruction::look, "bright_light", "And in bright light?",
           "Bright light", "Bright light"},
    Phrase{PhraseKind::history, Instruction::look, "injury", "Any injury?", "Injury", "Injury"},
    Phrase{PhraseKind::history, Instruction::look, "health", "How is your health?", "Health",
           "Health"},
    Phrase{PhraseKind::history, Instruction::look, "previous_treatment", "Treated before?",
           "Treatment", "Treatment"},
    Phrase{PhraseKind::history, Instruction::look, "family", "Anybody in the family?", "Family",
           "Family"},
    Phrase{PhraseKind::history, Instruction::look, "work", "What is your work?", "Work", "Work"},
    Phrase{PhraseKind::history, Instruction::look, "school", "How is school?", "School", "School"},
    Phrase{PhraseKind::request, Instruction::look, "acuity", "Acuity", "Acuity", "Acuity"},
    Phrase{PhraseKind::request, Instruction::look, "pinhole", "Acuity with a pinhole", "Pinhole",
           "Pinhole"},
    Phrase{PhraseKind::request, Instruction::look, "said_acuity", "Acuity when encouraged",
           "Encouraged", "Encouraged"},
    Phrase{PhraseKind::request, Instruction::look, "refraction", "Refraction", "Refraction",
           "Refraction"},
    Phrase{PhraseKind::request, Instruction::look, "spectacles", "Spectacles", "Spectacles",
           "Spectacles"},
    Phrase{PhraseKind::request, Instruction::look, "stereo", "Stereopsis", "Stereopsis",
           "Stereopsis"},
    Phrase{PhraseKind::request, Instruction::look, "pupils", "Pupils", "Pupils", "Pupils"},
    Phrase{PhraseKind::request, Instruction::look, "lids", "Lids", "Lids", "Lids"},
    Phrase{PhraseKind::request, Instruction::look, "versions", "Versions", "Versions", "Versions"},
    Phrase{PhraseKind::request, Instruction::look, "fixation", "Fixation", "Fixation", "Fixation"},
    Phrase{PhraseKind::request, Instruction::look, "torsion", "Torsion with two Maddox rods",
           "Torsion", "Torsion"},
    Phrase{PhraseKind::request, Instruction::look, "colour", "Colour vision", "Colour", "Colour"},
    Phrase{PhraseKind::request, Instruction::look, "fields", "Visual fields", "Fields", "Fields"},
    Phrase{PhraseKind::request, Instruction::look, "media", "Media", "Media", "Media"},
    Phrase{PhraseKind::request, Instruction::look, "discs", "Discs and maculae", "Discs", "Discs"},
    Phrase{PhraseKind::request, Instruction::look, "sensation", "Feeling of the face", "Face feels",
           "Face feels"},
    Phrase{PhraseKind::request, Instruction::look, "temporal_arteries", "Temporal arteries",
           "Temples", "Temples"},
    Phrase{PhraseKind::request, Instruction::look, "gait", "Gait", "Gait", "Gait"},
    Phrase{PhraseKind::request, Instruction::look, "blood_pressure", "Blood pressure", "Pressure",
           "Pressure"},
    Phrase{PhraseKind::instruct, Instruction::relax, "", "Hold your head as you like.",
           "Head as you like", "Head free"},
};
inline constexpr std::size_t kPhrasesOnDigits = 8;

enum class DistanceName : std::uint8_t { far, six, one, screen, forty, thirty_three, working };

/// In the order of F1 to F6; the last has no key.
struct DistanceChoice {
  DistanceName name;
  std::string_view words;
  double distance_m;  ///< 0: the patient's own
};
inline constexpr std::array kDistances{
    DistanceChoice{DistanceName::far, "Far distance", 20.0},
    DistanceChoice{DistanceName::six, "6 m", 6.0},
    DistanceChoice{DistanceName::one, "1 m", 1.0},
    DistanceChoice{DistanceName::screen, "Own screen", 0.0},
    DistanceChoice{DistanceName::forty, "40 cm", 0.40},
    DistanceChoice{DistanceName::thirty_three, "33 cm", 0.33},
    DistanceChoice{DistanceName::working, "Own reading distance", 0.0},
};

struct TargetWords {
  TargetKind kind;
  std::string_view words;
};
inline constexpr std::array kTargets{TargetWords{TargetKind::letters, "Letter line"},
                                     TargetWords{TargetKind::letter, "Single letter"},
                                     TargetWords{TargetKind::picture, "Picture"},
                                     TargetWords{TargetKind::spot, "Spot of light"}};

/// How hands hold the patient's head: signs of sim/basics/eye.hpp. 30 degrees of tilt and 25 of
/// turn are those of the truth's head tilts and nine gazes.
struct HeadPose {
  double roll_deg;
  double turn_deg;
  double chin_deg;
  std::string_view words;
};
inline constexpr std::array kHeadPoses{
    HeadPose{0, 0, 0, "Straight"},      HeadPose{30, 0, 0, "Tilted right"},
    HeadPose{-30, 0, 0, "Tilted left"}, HeadPose{0, 25, 0, "Turned right"},
    HeadPose{0, -25, 0, "Turned left"}, HeadPose{0, 0, 20, "Chin up"},
    HeadPose{0, 0, -20, "Chin down"},
};
inline constexpr std::int32_t kHeadTravelMs = 800;  ///< common practice, no source

/// Positions of gaze are 25° to the side, up and down [practice, B18].
inline constexpr double kGazeDeg = 25.0;
inline constexpr double kSmallestLogmar = -0.1;
inline constexpr double kLargestLogmar = 1.0;
/// Near point: the target comes at 3 cm/s to 5 cm (common practice, no source).
inline constexpr double kNearPointSpeed = 0.03;  ///< m/s
inline constexpr double kNearPointEnd = 0.05;    ///< m

}  // namespace redress::screens::examine
