// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/impressions.hpp"

#include <algorithm>
#include <array>

namespace redress::findings {

namespace {

using enum ImpressionGroup;
constexpr Sides kOne = Sides::right_left;
constexpr Sides kAlternates = Sides::with_alternating;
constexpr Sides kBoth = Sides::with_bilateral;

constexpr Impression kAll[] = {
    {"no abnormality found", nothing, Sides::none, "normal|nad|nothing abnormal"},
    {"no deviation", nothing, Sides::none, "ortho|straight|normal binocular vision"},
    {"pseudo-esotropia", nothing, Sides::none, "pseudostrabismus|epicanthus|pseudosquint"},
    {"pseudo-exotropia", nothing, Sides::none, "pseudostrabismus|angle kappa"},
    {"monocular diplopia", nothing, kOne, "ghost|shadow|cataract"},
    {"functional visual loss", nothing, Sides::none, "non-organic|medically unexplained"},

    {"uncorrected hypermetropia", correction, Sides::none, "long sight|latent hypermetropia"},
    {"uncorrected myopia", correction, Sides::none, "short sight"},
    {"uncorrected anisometropia", correction, Sides::none, "unequal refraction"},
    {"overcorrected myopia", correction, Sides::none, "over-minused"},
    {"presbyopia", correction, Sides::none, "reading add"},
    {"unwanted prism in the glasses", correction, Sides::none, "prismatic effect|decentred"},
    {"vertical prism of unequal lenses", correction, Sides::none,
     "anisometropia in down gaze|progressive lenses"},
    {"amblyopia", correction, kBoth, "lazy eye"},
    {"cataract", correction, kBoth, "lens opacity"},
    {"macular disease", correction, kBoth, "central scotoma|maculopathy"},

    {"exophoria", latent, Sides::none, "divergent latent"},
    {"esophoria", latent, Sides::none, "convergent latent"},
    {"hyperphoria", latent, kOne, "vertical heterophoria"},
    {"decompensating exophoria", latent, Sides::none, "decompensated"},
    {"decompensating esophoria", latent, Sides::none, "decompensated"},
    {"decompensating hyperphoria", latent, kOne, "decompensated"},
    {"hyperphoria from unequal lenses", latent, kOne,
     "anisometropia|vertical imbalance|progressive"},
    {"near exophoria", latent, Sides::none, "exophoria at near|greater at near"},
    {"near esophoria", latent, Sides::none, "esophoria at near|greater at near"},
    {"distance exophoria", latent, Sides::none, "greater at distance"},
    {"distance esophoria", latent, Sides::none, "greater at distance"},
    {"convergence insufficiency", latent, Sides::none, "ci"},
    {"convergence excess", latent, Sides::none, "ce|high ac/a"},
    {"divergence insufficiency", latent, Sides::none, "di"},
    {"divergence excess", latent, Sides::none, "de"},
    {"fusional vergence dysfunction", latent, Sides::none, "vergence|reduced fusional reserves"},
    {"accommodative insufficiency", latent, Sides::none, "accommodation"},

    {"esotropia", manifest, kAlternates, "convergent squint|et"},
    {"exotropia", manifest, kAlternates, "divergent squint|xt"},
    {"hypertropia", manifest, kOne, "vertical squint"},
    {"hypotropia", manifest, kOne, "vertical squint"},
    {"intermittent esotropia", manifest, Sides::none, "e(t)|cyclic"},
    {"intermittent exotropia", manifest, Sides::none, "x(t)|ixt|distance exotropia"},
    {"infantile esotropia", manifest, Sides::none, "congenital esotropia"},
    {"accommodative esotropia", manifest, Sides::none, "fully accommodative|refractive"},
    {"partly accommodative esotropia", manifest, Sides::none, "partially accommodative"},
    {"convergence excess esotropia", manifest, Sides::none, "near esotropia|high ac/a"},
    {"acute comitant esotropia", manifest, Sides::none, "acute concomitant|sudden esotropia"},
    {"age-related distance esotropia", manifest, Sides::none, "sagging eye|distance esotropia"},
    {"consecutive exotropia", manifest, Sides::none, "after surgery"},
    {"sensory exotropia", manifest, Sides::none, "secondary exotropia|blind eye"},
    {"sensory esotropia", manifest, Sides::none, "secondary esotropia|blind eye"},
    {"microtropia", manifest, kOne, "monofixation|microesotropia|small angle"},
    {"microtropia with identity", manifest, kOne, "monofixation|eccentric fixation"},
    {"dissociated vertical deviation", manifest, Sides::none, "dvd"},

    {"third nerve palsy", nerve_muscle, kBoth, "oculomotor|iii|3rd|cn3"},
    {"third nerve palsy with a large pupil", nerve_muscle, kBoth, "oculomotor|iii|aneurysm|cn3"},
    {"fourth nerve palsy", nerve_muscle, kBoth, "trochlear|superior oblique palsy|iv|4th|cn4"},
    {"congenital fourth nerve palsy, decompensating", nerve_muscle, kOne,
     "trochlear|superior oblique palsy|long-standing|iv"},
    {"sixth nerve palsy", nerve_muscle, kBoth, "abducens|lateral rectus palsy|vi|6th|cn6"},
    {"sixth nerve palsy with papilloedema", nerve_muscle, kBoth,
     "abducens|lateral rectus palsy|vi|swollen discs|raised intracranial pressure"},
    {"superior rectus palsy", nerve_muscle, kOne, "third nerve superior division"},
    {"inferior rectus palsy", nerve_muscle, kOne, "third nerve inferior division"},
    {"medial rectus palsy", nerve_muscle, kOne, "third nerve|adduction weakness"},
    {"inferior oblique palsy", nerve_muscle, kOne, "third nerve inferior division"},
    {"palsies of more than one nerve", nerve_muscle, Sides::none,
     "cavernous sinus|multiple cranial nerve|several nerves"},
    {"internuclear ophthalmoplegia", nerve_muscle, kBoth, "ino|mlf|adduction weakness"},
    {"skew deviation", nerve_muscle, Sides::none, "brainstem|vertigo|ocular tilt reaction"},
    {"convergence spasm", nerve_muscle, Sides::none, "near reflex spasm|spasm of the near reflex"},
    {"infantile nystagmus", nerve_muscle, Sides::none, "congenital nystagmus|null"},
    {"latent nystagmus", nerve_muscle, Sides::none, "fusion maldevelopment|manifest latent"},
    {"acquired nystagmus", nerve_muscle, Sides::none, "downbeat|upbeat|see-saw"},
    {"Duane syndrome", nerve_muscle, kBoth, "retraction syndrome|co-innervation"},
    {"Brown syndrome", nerve_muscle, kOne, "superior oblique tendon sheath|click"},
    {"myasthenia gravis", nerve_muscle, Sides::none, "ocular myasthenia|fatigue|variable"},

    {"thyroid eye disease", orbit_and_body, Sides::none, "graves|dysthyroid|restriction"},
    {"orbital floor fracture", orbit_and_body, kOne, "blow-out|trauma|trapped"},
    {"orbital inflammation or mass", orbit_and_body, kOne, "orbit|proptosis|myositis|tumour"},
    {"giant cell arteritis", orbit_and_body, Sides::none, "temporal arteritis|gca"},
    {"raised intracranial pressure", orbit_and_body, Sides::none, "papilloedema|swollen discs|iih"},
    {"transient ischaemic attack or stroke", orbit_and_body, Sides::none, "tia|brainstem|stroke"},
    {"demyelination", orbit_and_body, Sides::none, "multiple sclerosis|ms|optic neuritis"},
    {"head injury", orbit_and_body, Sides::none, "trauma|concussion"},
    {"Horner syndrome", orbit_and_body, kOne, "small pupil|carotid"},
};

constexpr std::string_view kGroupNames[kImpressionGroups] = {"No abnormality, or only its look",
                                                             "Correction, media, retina",
                                                             "Phorias and vergence",
                                                             "Manifest squints",
                                                             "Nerve, muscle, nystagmus",
                                                             "Orbit and general disease"};

constexpr std::string_view kSideWords[] = {"right", "left", "alternating"};
constexpr std::string_view kWithBilateral[] = {"right", "left", "bilateral"};

char to_lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }
std::string lowered(std::string_view text) {
  std::string s(text);
  std::transform(s.begin(), s.end(), s.begin(), to_lower);
  return s;
}

bool parts_words(char c) { return c == ' ' || c == '|' || c == ',' || c == '-'; }

std::vector<std::string> to_words(std::string_view text) {
  std::vector<std::string> words(1);
  for (const char c : text) {
    if (!parts_words(c)) {
      words.back() += to_lower(c);
    } else if (!words.back().empty()) {
      words.emplace_back();
    }
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

// The side that the words begin with, as of those that this entry can have.
std::optional<std::string_view> side_before(std::string_view words, Sides sides) {
  for (const std::string_view side : words_of(sides)) {
    if (words.size() > side.size() && words.starts_with(side) && words[side.size()] == ' ') {
      return side;
    }
  }
  return std::nullopt;
}

}  // namespace

std::span<const Impression> impressions() { return kAll; }

std::string_view name_of(ImpressionGroup group) {
  return kGroupNames[static_cast<std::size_t>(group)];
}

std::span<const std::string_view> words_of(Sides sides) {
  switch (sides) {
    case Sides::none: return {};
    case Sides::right_left: return std::span(kSideWords).first(2);
    case Sides::with_alternating: return kSideWords;
    case Sides::with_bilateral: return kWithBilateral;
  }
  return {};
}

std::vector<const Impression*> find_impressions(std::string_view typed) {
  std::vector<std::string> wanted = to_words(typed);
  constexpr std::string_view kSides[] = {"right", "left", "alternating", "bilateral"};
  std::erase_if(wanted, [&](const std::string& word) {
    return std::find(std::begin(kSides), std::end(kSides), word) != std::end(kSides);
  });
  std::vector<const Impression*> found;
  for (const Impression& each : kAll) {
    std::vector<std::string> words = to_words(each.name);
    for (const std::string_view more : {each.also, name_of(each.group)}) {
      for (std::string& word : to_words(more)) words.push_back(std::move(word));
    }
    const bool all = std::all_of(wanted.begin(), wanted.end(), [&](const std::string& part) {
      return std::any_of(words.begin(), words.end(),
                         [&](const std::string& word) { return word.starts_with(part); });
    });
    if (all) found.push_back(&each);
  }
  return found;
}

ReadImpression read_impression(std::string_view diagnosis) {
  const std::string words = lowered(diagnosis);
  for (const Impression& each : kAll) {
    const std::string name = lowered(each.name);
    if (words == name) return {&each, std::nullopt};
    const auto side = side_before(words, each.sides);
    if (side && std::string_view(words).substr(side->size() + 1) == name) return {&each, side};
  }
  return {};
}

std::string write_impression(const Impression& impression, std::optional<std::string_view> side) {
  std::string text;
  if (side) text = std::string(*side) + " ";
  return text.append(impression.name);
}

}  // namespace redress::findings
