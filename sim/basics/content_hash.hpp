// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The one hash by which bytes are told apart: BLAKE2b-256 (libsodium crypto_generichash, 32 bytes,
// no key). The state of an examination has a faster one of its own (sim/basics/state_hash.hpp).
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <string_view>

namespace redress {

inline constexpr std::size_t kContentHashBytes = 32;

/// Of first + second, 64 lower-case hexadecimal digits.
std::string calc_hash(std::string_view first, std::string_view second = {});

/// The same as bytes.
std::array<unsigned char, kContentHashBytes> calc_hash_bytes(std::string_view first,
                                                             std::string_view second = {});

}  // namespace redress
