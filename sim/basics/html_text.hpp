// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#pragma once

#include <string>
#include <string_view>

namespace redress {

/// Text as it stands in HTML and SVG, between tags or within double quotation marks.
[[nodiscard]] std::string escape_html(std::string_view text);

}  // namespace redress
