// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/generated_teaching.hpp"

#include <string>
#include <utility>
#include <vector>

namespace redress::program {

using nlohmann::json;

namespace {

using Words = std::vector<std::string_view>;

struct LookAlike {
  std::string_view name;
  std::string_view sign;
};

struct Taught {
  std::string_view kind;
  std::string_view goal;  ///< seen beforehand: no diagnosis in it
  Words key_questions;
  std::string_view different;
  LookAlike one;
  LookAlike other;
  Words tests;
  Words plan;
  Words harmful;
};

const std::vector<Taught>& all_taught() {
  static const std::vector<Taught> kTaught{
      {"no deviation",
       "Does anything move at all",
       {"onset", "double_vision"},
       "Nothing that anybody needs to see: what little there is comes back at once.",
       {"an exophoria worth writing", "a movement of 2 or more that is seen on every cover"},
       {"a small vertical deviation", "one eye comes down and the other up"},
       {},
       {"no_treatment or information"},
       {}},
      {"exophoria",
       "Size, at 6 m and at near",
       {"onset", "tired_eyes"},
       "A latent deviation that is held with reserves twice its size and comes back at once: "
       "nothing to treat.",
       {"a decompensating exophoria", "slow or broken recovery, a reserve below twice the size"},
       {"an intermittent exotropia", "does not come back unaided"},
       {},
       {"no_treatment or information or monitor"},
       {}},
      {"esophoria",
       "Size, at 6 m and at near",
       {"onset", "tired_eyes"},
       "A latent deviation that is held with ease: the recovery of the base-in reserve is as much "
       "as the deviation.",
       {"a decompensating esophoria", "recovery slows down as covers are repeated; symptoms"},
       {"an uncorrected hypermetropia", "goes with the full correction"},
       {},
       {"no_treatment or information or monitor"},
       {}},
      {"convergence excess",
       "Let the story choose the distance",
       {"onset", "double_vision", "variation"},
       "It belongs to accommodation: hardly there at 6 m, large with letters at near, less with "
       "plus lenses.",
       {"a basic esophoria", "the same at 6 m"},
       {"an uncorrected hypermetropia", "goes with the full correction"},
       {"ac_a"},
       {"near_add", "refraction or monitor"},
       {"extra_minus"}},
      {"convergence insufficiency",
       "Let the story choose the distance",
       {"onset", "double_vision", "tired_eyes"},
       "Almost straight at 6 m. At near the exophoria is much greater and the reserve is below "
       "what it would take.",
       {"a failure of accommodation", "blur with one eye alone, and a low amplitude for the age"},
       {"a weakness of both medial recti", "adduction is short on looking to the side as well"},
       {"near_point", "reserves"},
       {"exercises", "monitor or refer_orthoptist"},
       {}},
      {"esotropia",
       "Which eye moves, and when",
       {"onset", "previous_treatment"},
       "Covering the eye that fixes moves both, covering the other moves nothing: it squints all "
       "the time, and sees less for it.",
       {"an alternating esotropia", "either eye keeps fixation past a blink"},
       {"an accommodative esotropia", "less of it with the full plus worn"},
       {},
       {"refraction or cycloplegia", "refer_orthoptist or refer_ophthalmology"},
       {"extra_minus", "exercises"}},
      {"exotropia",
       "Which eye moves, and when",
       {"onset", "previous_treatment"},
       "Out before anybody covers anything, and the same eye each time: it sees less than its "
       "fellow.",
       {"an intermittent exotropia", "straight for a while when it is watched without a cover"},
       {"a third nerve palsy", "sudden, with a drooping lid, a wide pupil and short adduction"},
       {},
       {"refraction or cycloplegia",
        "refer_orthoptist or refer_ophthalmology or refer_surgical_opinion"},
       {"exercises"}},
      {"intermittent exotropia",
       "How well is it held",
       {"onset", "variation", "bright_light"},
       "Straight until it is dissociated, then out and not back unaided. Watch for half a minute "
       "before the first cover.",
       {"an exophoria", "comes back by itself after every cover"},
       {"a constant exotropia", "out before anybody covers anything"},
       {"control_score"},
       {"refraction or cycloplegia", "refer_orthoptist or refer_ophthalmology or monitor"},
       {"near_add"}},
      {"hyperphoria",
       "Look up and down as well",
       {"onset", "tired_eyes"},
       "One eye comes down and the other goes up: a few prism dioptres are a fraction of a "
       "millimetre, and they matter.",
       {"a fourth nerve palsy", "grows on looking to one side and on tilting the head"},
       {"a blink", "takes both eyes down together"},
       {},
       {"prism or refraction", "monitor or refer_orthoptist"},
       {}},
      {"sixth nerve palsy",
       "Fix with one eye, then with the other",
       {"onset", "double_vision", "headache", "health"},
       "In at distance, less at near, larger to the side of the weak muscle, and larger again when "
       "the weak eye fixes.",
       {"a decompensating esophoria", "the same in every gaze, with either eye fixing"},
       {"an age-related distance esotropia", "the same to both sides, saccades at full speed"},
       {"nine_gazes"},
       {"refer_ophthalmology or refer_neurology or refer_emergency", "driving"},
       {"exercises", "no_treatment"}},
      {"fourth nerve palsy",
       "Which muscle, by three steps",
       {"onset", "double_vision", "injury"},
       "One eye stands higher, more on looking to the other side and with the head tilted to its "
       "own. It came on one day, and things look tilted.",
       {"an old palsy of the same muscle", "a head tilt on old photographs, a large reserve"},
       {"a skew deviation", "no pattern of the three steps, vertigo, gait"},
       {"nine_gazes", "head_tilt"},
       {"refer_ophthalmology or refer_neurology or refer_orthoptist", "driving"},
       {"exercises", "no_treatment"}}};
  return kTaught;
}

void put(json& out, const char* key, const Words& words) {
  if (!words.empty()) out[key] = words;
}

}  // namespace

void write_teaching(std::string_view kind_word, double difficulty, json& out) {
  json& teaching = out["teaching"];
  for (const Taught& taught : all_taught()) {
    if (taught.kind != kind_word) continue;
    teaching["goal"] = taught.goal;
    teaching["level"] = 1 + static_cast<int>(4.0 * difficulty + 0.5);
    teaching["key_questions"] = taught.key_questions;
    teaching["different"] = taught.different;
    for (const LookAlike& like : {taught.one, taught.other}) {
      teaching["look_alikes"].push_back({{"name", like.name}, {"sign", like.sign}});
    }
    teaching["sources"] = {"Drawn from published figures: the program's model chapter names them.",
                           "Textbook knowledge, from memory."};
    json& expected = out["expected"];
    put(expected, "tests", taught.tests);
    put(expected, "plan", taught.plan);
    put(expected, "harmful", taught.harmful);
  }
}

}  // namespace redress::program
