// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a department calls the four steps of urgency, and what it tells those who drive, as data:
//   {"format": "redress-department", "version": 1, "title": "Example, hospital", "example": true,
//    "urgency": {"same_day": "...", "urgent": "...", "soon": "...", "routine": "..."},
//    "driving": {"no_bar": "...", "not_until_controlled": "...", "notify_authority": "..."}}
// No code is universal: what ships in assets/departments are examples, to be replaced by those who
// answer for a department's own.
#pragma once

#include <array>
#include <string>
#include <string_view>

#include "sim/basics/problem.hpp"
#include "sim/room/finding.hpp"

namespace redress::findings {

struct Department {
  std::string title;
  bool example = true;
  std::array<std::string, 4> urgency;  ///< in the order of Urgency
  std::array<std::string, 3> driving;  ///< in the order of Driving

  [[nodiscard]] const std::string& code_of(Urgency step) const {
    return urgency[static_cast<std::size_t>(step)];
  }
  [[nodiscard]] const std::string& words_of(Driving advice) const {
    return driving[static_cast<std::size_t>(advice)];
  }
};

Result<Department> read_department_text(std::string_view text);

}  // namespace redress::findings
