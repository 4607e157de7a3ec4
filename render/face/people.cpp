// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/people.hpp"

#include <array>
#include <cstdint>

#include "render/face/invention.hpp"
#include "render/face/pigments.hpp"

namespace redress::face {
namespace {

using namespace pigment;
using scene::PatientAppearance;

PatientAppearance with_iris(IrisColour c, float age_years) {
  PatientAppearance a;
  a.age_years = age_years;
  a.iris_outer = c.outer;
  a.iris_inner = c.inner;
  a.iris_fibre = c.fibre;
  return a;
}

/// Made up by a seed, and found to look like nobody else here.
struct Invented {
  std::string_view key;
  std::string_view description;
  std::uint32_t seed;
  float age_years;
};
constexpr std::array<Invented, 20> kInvented{{
    {"juma", "infant of 18 months, brown skin", 101, 1.5F},
    {"noa", "child of 3, dark eyes", 102, 3},
    {"mika", "child of 4, light brown eyes", 103, 4},
    {"sena", "child of 7, round face, dark eyes", 104, 7},
    {"isha", "child of 9, brown skin, hazel eyes", 105, 9},
    {"bryn", "child of 11, fair, blue eyes", 106, 11},
    {"dario", "boy of 13, strong brows", 107, 13},
    {"luisa", "girl of 16, hazel eyes", 108, 16},
    {"edvin", "man of 19, broad fair brows, freckles", 109, 19},
    {"arjun", "man of 22, brown skin, strong brows", 110, 22},
    {"paloma", "woman of 27, brown eyes", 111, 27},
    {"tenzin", "man of 33, straight lids", 112, 33},
    {"samira", "woman of 38, dark brows", 113, 38},
    {"kofi", "man of 42, very dark skin, greying", 114, 42},
    {"lalita", "woman of 47, brown skin", 115, 47},
    {"mateus", "man of 55, grey brows", 116, 55},
    {"prakash", "man of 60, heavy grey brows", 117, 60},
    {"rosaura", "woman of 68, thin grey brows", 118, 68},
    {"adaeze", "woman of 75, dark skin, grey brows", 119, 75},
    {"setsuko", "woman of 87, pale brows", 120, 87},
}};

// Woman of 28, blue eyes.
PatientAppearance make_clara() {
  PatientAppearance a = with_iris(kBlueIris, 28);
  a.seed = 11;
  a.interpupillary_mm = 61;
  a.canthal_tilt_mm = 2.3F;
  a.crease_show_mm = 2.6F;
  a.brow_ridge = 0.25F;
  a.nose_width = 0.35F;
  a.melanin = 0.07F;
  a.blood = 0.50F;
  a.freckles = 0.12F;
  a.hair = kBrown;
  a.brow_start_mm = 14.2F;
  a.brow_arch_mm = 5.2F;
  a.brow_width_mm = 4.8F;
  a.lash_mm = 7.9F;
  return a;
}

// Man of 35, very dark skin.
PatientAppearance make_desmond() {
  PatientAppearance a = with_iris(kDarkIris, 35);
  a.seed = 12;
  a.interpupillary_mm = 66;
  a.fissure_length_mm = 30.5F;
  a.canthal_tilt_mm = 1.9F;
  a.fold_fullness_mm = 0.4F;
  a.brow_ridge = 0.60F;
  a.nose_bridge = 0.28F;
  a.nose_width = 0.95F;
  a.cheek = 0.6F;
  a.melanin = 0.98F;
  a.blood = 0.35F;
  a.shine = 0.66F;
  a.circles = 0.5F;
  a.hair = kBlack;
  a.brow_arch_mm = 3.6F;
  a.brow_width_mm = 6.0F;
  a.brow_hair_mm = 5.5F;
  a.lash_mm = 6.9F;
  a.sclera_yellow = 0.55F;
  return a;
}

// Woman of 24, single lids.
PatientAppearance make_mei() {
  PatientAppearance a = with_iris(kDarkIris, 24);
  a.seed = 13;
  a.interpupillary_mm = 63;
  a.upper_margin_mm = {3.4F, 3.4F};
  a.canthal_tilt_mm = 2.6F;
  a.crease_depth = 0;
  a.epicanthus = 0.9F;
  a.fold_fullness_mm = 2.1F;
  a.brow_ridge = 0.15F;
  a.nose_bridge = 0.12F;
  a.nose_width = 0.55F;
  a.cheek = 0.65F;
  a.melanin = 0.20F;
  a.blood = 0.35F;
  a.yellow = 0.5F;
  a.hair = kBlack;
  a.brow_start_mm = 15.2F;
  a.brow_arch_mm = 3.4F;
  a.brow_density = 0.8F;
  a.lash_mm = 5.6F;
  a.lash_curl = 0.25F;
  return a;
}

// Man of 72, hooded lids.
PatientAppearance make_walter() {
  PatientAppearance a = with_iris(kGreyIris, 72);
  a.seed = 14;
  a.interpupillary_mm = 64;
  a.upper_margin_mm = {3.2F, 3.0F};
  a.lower_margin_mm = {6.1F, 6.2F};
  a.fissure_length_mm = 27.5F;
  a.canthal_tilt_mm = 0.5F;
  a.crease_show_mm = 2.0F;
  a.fold_fullness_mm = -0.3F;
  a.hooding = 0.9F;
  a.bags = 0.85F;
  a.wrinkles = 1;
  a.brow_ridge = 0.75F;
  a.nose_bridge = 0.75F;
  a.nose_width = 0.6F;
  a.cheek = 0.3F;
  a.melanin = 0.08F;
  a.blood = 0.68F;
  a.mottling = 0.95F;
  a.pores = 0.75F;
  a.circles = 0.55F;
  a.coarse_pores = 0.5F;
  a.hair = kGrey;
  a.grey_hair = 0.5F;
  a.brow_start_mm = 11.8F;
  a.brow_arch_mm = 3.2F;
  a.brow_width_mm = 6.4F;
  a.brow_hair_mm = 9.5F;
  a.brow_asymmetry_mm = -1.4F;
  a.lash_mm = 5.6F;
  a.lash_density = 0.7F;
  a.arcus = 0.8F;
  a.redness = 0.55F;
  a.sclera_yellow = 0.6F;
  return a;
}

// Girl of 14, freckles, green eyes.
PatientAppearance make_orla() {
  PatientAppearance a = with_iris(kGreenIris, 14);
  a.seed = 15;
  a.interpupillary_mm = 58;
  a.face_scale = 0.95F;
  a.brow_ridge = 0.2F;
  a.nose_width = 0.35F;
  a.melanin = 0.03F;
  a.blood = 0.62F;
  a.freckles = 0.9F;
  a.hair = kAuburn;
  a.brow_arch_mm = 4.2F;
  a.brow_density = 0.75F;
  a.lash_density = 0.8F;
  return a;
}

// Boy of 5, blue eyes.
PatientAppearance make_finn() {
  PatientAppearance a = with_iris(kBlueIris, 5);
  a.seed = 16;
  a.interpupillary_mm = 51;
  a.face_scale = 0.82F;
  a.upper_margin_mm = {4.2F, 4.2F};
  a.lower_margin_mm = {5.4F, 5.4F};
  a.fissure_length_mm = 26;
  a.canthal_tilt_mm = 1.4F;
  a.crease_show_mm = 2.2F;
  a.crease_depth = 0.75F;
  a.epicanthus = 0.3F;
  a.fold_fullness_mm = 1.0F;
  a.brow_ridge = 0;
  a.nose_bridge = 0.12F;
  a.nose_width = 0.55F;
  a.cheek = 0.9F;
  a.melanin = 0.07F;
  a.blood = 0.48F;
  a.yellow = 0.08F;
  a.mottling = 0.35F;
  a.shine = 0.4F;
  a.pores = 0.18F;
  a.circles = 0.12F;
  a.hair = kBlond;
  a.brow_start_mm = 12.8F;
  a.brow_arch_mm = 2.8F;
  a.brow_width_mm = 4.1F;
  a.brow_density = 0.62F;
  a.brow_hair_mm = 5;
  a.brow_gap_mm = 8.5F;
  a.lash_mm = 7.7F;
  a.redness = 0.05F;
  a.sclera_yellow = 0;
  return a;
}

// Girl of 6, dark skin.
PatientAppearance make_amara() {
  PatientAppearance a = with_iris(kDarkIris, 6);
  a.seed = 17;
  a.interpupillary_mm = 52;
  a.face_scale = 0.84F;
  a.upper_margin_mm = {4.5F, 4.5F};
  a.lower_margin_mm = {5.6F, 5.6F};
  a.fissure_length_mm = 27;
  a.crease_show_mm = 2.4F;
  a.epicanthus = 0.25F;
  a.fold_fullness_mm = 0.9F;
  a.brow_ridge = 0;
  a.nose_bridge = 0.08F;
  a.nose_width = 0.8F;
  a.cheek = 0.9F;
  a.melanin = 0.78F;
  a.blood = 0.38F;
  a.mottling = 0.3F;
  a.shine = 0.5F;
  a.pores = 0.2F;
  a.circles = 0.3F;
  a.hair = kBlack;
  a.brow_start_mm = 13.4F;
  a.brow_arch_mm = 3.0F;
  a.brow_width_mm = 4.4F;
  a.brow_density = 0.7F;
  a.brow_hair_mm = 4.6F;
  a.lash_mm = 8.2F;
  a.lash_curl = 0.85F;
  a.redness = 0.05F;
  a.sclera_yellow = 0.1F;
  return a;
}

// Man of 31, brown skin, strong brows.
PatientAppearance make_rohan() {
  PatientAppearance a = with_iris(kBrownIris, 31);
  a.seed = 18;
  a.interpupillary_mm = 60;
  a.canthal_tilt_mm = 0.8F;
  a.crease_show_mm = 2.6F;
  a.wrinkles = 0.25F;
  a.brow_ridge = 0.62F;
  a.nose_bridge = 0.8F;
  a.nose_width = 0.5F;
  a.melanin = 0.40F;
  a.blood = 0.45F;
  a.yellow = 0.25F;
  a.circles = 0.95F;
  a.coarse_pores = 0.4F;
  a.hair = kBlack;
  a.brow_start_mm = 12.4F;
  a.brow_arch_mm = 3.6F;
  a.brow_width_mm = 6.9F;
  a.brow_density = 1.35F;
  a.brow_gap_mm = 7.5F;
  a.lash_mm = 8.2F;
  a.lash_density = 1.2F;
  a.sclera_yellow = 0.35F;
  return a;
}

// Woman of 51, hazel eyes.
PatientAppearance make_helen() {
  PatientAppearance a = with_iris(kHazelIris, 51);
  a.seed = 19;
  a.interpupillary_mm = 60;
  a.fissure_length_mm = 28;
  a.canthal_tilt_mm = 1.2F;
  a.hooding = 0.35F;
  a.bags = 0.4F;
  a.wrinkles = 0.55F;
  a.brow_ridge = 0.3F;
  a.nose_bridge = 0.6F;
  a.melanin = 0.15F;
  a.blood = 0.5F;
  a.yellow = 0.2F;
  a.circles = 0.55F;
  a.hair = kBrown;
  a.brow_start_mm = 14.5F;
  a.brow_arch_mm = 5.0F;
  a.brow_width_mm = 3.7F;
  a.brow_density = 0.85F;
  a.lash_mm = 7.3F;
  a.redness = 0.35F;
  return a;
}

// Man of 63, low creases.
PatientAppearance make_kenji() {
  PatientAppearance a = with_iris(kDarkIris, 63);
  a.seed = 20;
  a.interpupillary_mm = 65;
  a.upper_margin_mm = {3.0F, 3.1F};
  a.fissure_length_mm = 27.5F;
  a.canthal_tilt_mm = 2.2F;
  a.crease_show_mm = 1.3F;
  a.crease_depth = 0.55F;
  a.epicanthus = 0.55F;
  a.fold_fullness_mm = 1.1F;
  a.hooding = 0.5F;
  a.bags = 0.7F;
  a.wrinkles = 0.75F;
  a.brow_ridge = 0.4F;
  a.nose_bridge = 0.35F;
  a.nose_width = 0.7F;
  a.melanin = 0.30F;
  a.blood = 0.38F;
  a.yellow = 0.45F;
  a.mottling = 0.8F;
  a.hair = kBlack;
  a.grey_hair = 0.35F;
  a.brow_start_mm = 14;
  a.brow_arch_mm = 3;
  a.brow_density = 0.65F;
  a.brow_asymmetry_mm = 1.0F;
  a.lash_mm = 5.2F;
  a.lash_curl = 0.3F;
  a.arcus = 0.4F;
  a.sclera_yellow = 0.5F;
  return a;
}

// Woman of 29, brown skin.
PatientAppearance make_leila() {
  PatientAppearance a = with_iris(kBrownIris, 29);
  a.seed = 21;
  a.interpupillary_mm = 63.5F;
  a.fissure_length_mm = 30;
  a.canthal_tilt_mm = 2.8F;
  a.crease_show_mm = 3.6F;
  a.brow_ridge = 0.2F;
  a.nose_bridge = 0.45F;
  a.nose_width = 0.6F;
  a.melanin = 0.60F;
  a.blood = 0.45F;
  a.yellow = 0.15F;
  a.shine = 0.55F;
  a.circles = 0.5F;
  a.hair = kBlack;
  a.brow_start_mm = 14.4F;
  a.brow_arch_mm = 5.4F;
  a.brow_width_mm = 4.8F;
  a.lash_mm = 8.2F;
  a.lash_curl = 0.8F;
  a.iris_outer = {0.060F, 0.029F, 0.012F};
  a.iris_inner = {0.075F, 0.034F, 0.013F};
  return a;
}

// Woman of 78, ptosis of the left.
PatientAppearance make_edith() {
  PatientAppearance a = with_iris(kGreyIris, 78);
  a.seed = 22;
  a.interpupillary_mm = 60;
  a.upper_margin_mm = {3.8F, 2.0F};
  a.fissure_length_mm = 27.5F;
  a.canthal_tilt_mm = 0.4F;
  a.crease_show_mm = 4.6F;
  a.fold_fullness_mm = -1.6F;
  a.hooding = 0.4F;
  a.bags = 0.5F;
  a.wrinkles = 0.9F;
  a.brow_ridge = 0.35F;
  a.nose_bridge = 0.6F;
  a.nose_width = 0.4F;
  a.cheek = 0.3F;
  a.melanin = 0.06F;
  a.blood = 0.56F;
  a.mottling = 0.8F;
  a.pores = 0.65F;
  a.circles = 0.6F;
  a.hair = kGrey;
  a.grey_hair = 0.65F;
  a.brow_start_mm = 14;
  a.brow_arch_mm = 3.8F;
  a.brow_width_mm = 3.4F;
  a.brow_density = 0.55F;
  a.brow_asymmetry_mm = 2.2F;
  a.lash_mm = 5.6F;
  a.lash_density = 0.65F;
  a.arcus = 0.6F;
  return a;
}

}  // namespace

namespace {

std::vector<Person> make_people() {
  std::vector<Person> all{
      {"clara", "woman of 28, blue eyes", make_clara()},
      {"desmond", "man of 35, very dark skin", make_desmond()},
      {"mei", "woman of 24, single lids", make_mei()},
      {"walter", "man of 72, hooded lids", make_walter()},
      {"orla", "girl of 14, freckles, green eyes", make_orla()},
      {"finn", "boy of 5, blue eyes", make_finn()},
      {"amara", "girl of 6, dark skin", make_amara()},
      {"rohan", "man of 31, brown skin, strong brows", make_rohan()},
      {"helen", "woman of 51, hazel eyes", make_helen()},
      {"kenji", "man of 63, low creases", make_kenji()},
      {"leila", "woman of 29, brown skin", make_leila()},
      {"edith", "woman of 78, ptosis of the left", make_edith()},
  };
  for (const Invented& one : kInvented) {
    all.push_back({one.key, one.description, invent_appearance(one.seed, one.age_years)});
  }
  return all;
}

}  // namespace

const std::vector<Person>& people() {
  static const std::vector<Person> kPeople = make_people();
  return kPeople;
}

const Person* find_person(std::string_view key) {
  for (const Person& p : people()) {
    if (p.key == key) return &p;
  }
  return nullptr;
}

}  // namespace redress::face
