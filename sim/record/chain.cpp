// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/record/chain.hpp"

#include <sodium.h>

#include <array>

namespace redress::record {

namespace {

constexpr std::string_view kOpening = ",\"chain\":\"";
constexpr std::string_view kClosing = "\"}";
constexpr std::size_t kHashBytes = 32;
constexpr std::size_t kHashDigits = 2 * kHashBytes;

void take(crypto_generichash_state& state, std::string_view bytes) {
  crypto_generichash_update(&state, reinterpret_cast<const unsigned char*>(bytes.data()),
                            bytes.size());
}

}  // namespace

std::string calc_hash(std::string_view first, std::string_view second) {
  // sodium_init() is not needed here: it chooses faster code and seeds random numbers, and the hash
  // is the same without it.
  crypto_generichash_state state;
  crypto_generichash_init(&state, nullptr, 0, kHashBytes);
  take(state, first);
  take(state, second);
  std::array<unsigned char, kHashBytes> hash;
  crypto_generichash_final(&state, hash.data(), hash.size());

  std::string text;
  text.reserve(kHashDigits);
  for (const unsigned char byte : hash) {
    text.push_back("0123456789abcdef"[byte >> 4]);
    text.push_back("0123456789abcdef"[byte & 15U]);
  }
  return text;
}

std::string make_chained_line(std::string_view object, ChainText& chain) {
  const std::string_view body = object.substr(0, object.size() - 1);  // without the last brace
  chain = calc_hash(chain, body);
  std::string line;
  line.reserve(body.size() + kOpening.size() + kHashDigits + kClosing.size());
  line.append(body).append(kOpening).append(chain).append(kClosing);
  return line;
}

std::optional<ChainedLine> find_chain(std::string_view line) {
  constexpr std::size_t kTail = kOpening.size() + kHashDigits + kClosing.size();
  if (line.size() <= kTail) return std::nullopt;
  const std::size_t body = line.size() - kTail;
  if (line.substr(body, kOpening.size()) != kOpening || !line.ends_with(kClosing)) {
    return std::nullopt;
  }
  return ChainedLine{line.substr(0, body), line.substr(body + kOpening.size(), kHashDigits)};
}

}  // namespace redress::record
