// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Memory for secrets: locked in RAM (never swapped), between guard pages, wiped when it is given
// back (libsodium's guarded heap). Bytes as hexadecimal text, both ways.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace redress::assessment {

class LockedBytes {
 public:
  LockedBytes() = default;
  /// Zeros. Throws std::bad_alloc if there is no memory.
  explicit LockedBytes(std::size_t size);
  LockedBytes(LockedBytes&& other) noexcept;
  LockedBytes& operator=(LockedBytes&& other) noexcept;
  LockedBytes(const LockedBytes&) = delete;
  LockedBytes& operator=(const LockedBytes&) = delete;
  ~LockedBytes();

  [[nodiscard]] unsigned char* data() { return data_; }
  [[nodiscard]] const unsigned char* data() const { return data_; }
  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] std::string_view text() const {
    return {reinterpret_cast<const char*>(data_), size_};
  }

 private:
  unsigned char* data_ = nullptr;
  std::size_t size_ = 0;
};

LockedBytes lock_text(std::string_view text);

/// Lower-case hexadecimal.
std::string to_hex_text(std::span<const unsigned char> bytes);
/// Into exactly as many bytes as `out` has; false for anything but lower-case digits.
bool from_hex_text(std::string_view text, std::span<unsigned char> out);

/// Keeps this process' memory from core dumps, from other processes of the same account and, where
/// the system lets it, from the swap file. Called by what opens a sealed circuit, before it does.
/// False: the memory could not be locked (the rest holds).
bool harden_process();

}  // namespace redress::assessment
