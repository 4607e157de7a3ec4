// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// When the graphics card came past places of a frame, by its own clock.
#pragma once

#include <array>
#include <cstddef>

#include "render/gl/handle.hpp"

namespace redress::gl {

template <std::size_t Count>
class Stamps {
 public:
  Stamps() {
    for (QueryHandle& each : stamps_) each = QueryHandle::make();
  }
  /// Once for each place in a frame.
  void set(std::size_t place) { glQueryCounter(stamps_.at(place).id(), GL_TIMESTAMP); }
  /// Of the frame whose places all were set. Waits for them.
  [[nodiscard]] double between_ms(std::size_t from, std::size_t to) const {
    return 1e-6 * static_cast<double>(read(to) - read(from));
  }

 private:
  [[nodiscard]] GLint64 read(std::size_t place) const {
    GLint64 ns = 0;
    glGetQueryObjecti64v(stamps_.at(place).id(), GL_QUERY_RESULT, &ns);
    return ns;
  }
  std::array<QueryHandle, Count> stamps_;
};

}  // namespace redress::gl
