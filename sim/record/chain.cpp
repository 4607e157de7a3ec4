// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/record/chain.hpp"

#include "sim/basics/content_hash.hpp"

namespace redress::record {

namespace {

constexpr std::string_view kOpening = ",\"chain\":\"";
constexpr std::string_view kClosing = "\"}";
constexpr std::size_t kHashDigits = 2 * kContentHashBytes;

}  // namespace

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
