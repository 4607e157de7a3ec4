// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/basics/content_hash.hpp"

#include <sodium.h>

namespace redress {

namespace {

void take(crypto_generichash_state& state, std::string_view bytes) {
  crypto_generichash_update(&state, reinterpret_cast<const unsigned char*>(bytes.data()),
                            bytes.size());
}

}  // namespace

std::array<unsigned char, kContentHashBytes> calc_hash_bytes(std::string_view first,
                                                             std::string_view second) {
  // sodium_init() is not needed here: it chooses faster code and seeds random numbers, and the hash
  // is the same without it.
  crypto_generichash_state state;
  crypto_generichash_init(&state, nullptr, 0, kContentHashBytes);
  take(state, first);
  take(state, second);
  std::array<unsigned char, kContentHashBytes> hash;
  crypto_generichash_final(&state, hash.data(), hash.size());
  return hash;
}

std::string calc_hash(std::string_view first, std::string_view second) {
  std::string text;
  text.reserve(2 * kContentHashBytes);
  for (const unsigned char byte : calc_hash_bytes(first, second)) {
    text.push_back("0123456789abcdef"[byte >> 4]);
    text.push_back("0123456789abcdef"[byte & 15U]);
  }
  return text;
}

}  // namespace redress
