// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/cases/migrate.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace redress {

std::span<const Migration> case_migrations() { return {}; }

Result<nlohmann::ordered_json> migrate(nlohmann::ordered_json document, std::int64_t to,
                                       std::span<const Migration> steps) {
  if (!document.is_object()) return document;
  const auto version = document.find("version");
  if (version == document.end() || !version->is_number_integer()) return document;
  auto now = version->get<std::int64_t>();
  if (now > to) {
    return Problems{{"/version", fmt::format("was written by a newer version ({}; this one reads "
                                             "{})",
                                             now, to)}};
  }
  while (now < to) {
    const auto step = std::find_if(steps.begin(), steps.end(),
                                   [now](const Migration& each) { return each.from == now; });
    if (step == steps.end()) {
      const std::int64_t oldest = steps.empty() ? to : steps.front().from;
      return Problems{
          {"/version", fmt::format("is {}; allowed: {}", now,
                                   oldest == to ? fmt::format("{}", to)
                                                : fmt::format("{} to {}", oldest, to))}};
    }
    step->change(document);
    document["version"] = ++now;
  }
  return document;
}

}  // namespace redress
