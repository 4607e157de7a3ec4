// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Invented people, none of them anybody.
#pragma once

#include <string_view>
#include <vector>

#include "render/scene/scene.hpp"

namespace redress::face {

struct Person {
  std::string_view key;  ///< for case files and the command line
  std::string_view description;
  scene::PatientAppearance look;
};

/// All of them, in a fixed order.
const std::vector<Person>& people();
/// The person of that key, or null.
const Person* find_person(std::string_view key);

}  // namespace redress::face
