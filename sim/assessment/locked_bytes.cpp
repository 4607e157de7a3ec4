// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/locked_bytes.hpp"

#include <sodium.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <unistd.h>

#include <cstring>
#include <new>
#include <utility>

namespace redress::assessment {

LockedBytes::LockedBytes(std::size_t size) : size_(size) {
  if (sodium_init() < 0) throw std::bad_alloc();
  data_ = static_cast<unsigned char*>(sodium_malloc(size == 0 ? 1 : size));
  if (data_ == nullptr) throw std::bad_alloc();
  std::memset(data_, 0, size_);
}

LockedBytes::LockedBytes(LockedBytes&& other) noexcept
    : data_(std::exchange(other.data_, nullptr)), size_(std::exchange(other.size_, 0)) {}

LockedBytes& LockedBytes::operator=(LockedBytes&& other) noexcept {
  if (this != &other) {
    sodium_free(data_);
    data_ = std::exchange(other.data_, nullptr);
    size_ = std::exchange(other.size_, 0);
  }
  return *this;
}

LockedBytes::~LockedBytes() { sodium_free(data_); }

LockedBytes lock_text(std::string_view text) {
  LockedBytes bytes(text.size());
  if (!text.empty()) std::memcpy(bytes.data(), text.data(), text.size());
  return bytes;
}

std::string to_hex_text(std::span<const unsigned char> bytes) {
  std::string text;
  text.reserve(2 * bytes.size());
  for (const unsigned char byte : bytes) {
    text.push_back("0123456789abcdef"[byte >> 4]);
    text.push_back("0123456789abcdef"[byte & 15U]);
  }
  return text;
}

bool from_hex_text(std::string_view text, std::span<unsigned char> out) {
  if (text.size() != 2 * out.size()) return false;
  const auto value = [](char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    return -1;
  };
  for (std::size_t i = 0; i < out.size(); ++i) {
    const int high = value(text[2 * i]);
    const int low = value(text[2 * i + 1]);
    if (high < 0 || low < 0) return false;
    out[i] = static_cast<unsigned char>(16 * high + low);
  }
  return true;
}

bool harden_process() {
  const rlimit none{0, 0};
  (void)setrlimit(RLIMIT_CORE, &none);
  (void)prctl(PR_SET_DUMPABLE, 0, 0, 0, 0);
  // What is read out of a sealed circuit goes to the ordinary heap. With a small allowance, locking
  // what is still to come would make later allocations fail: then only guarded memory is locked.
  rlimit allowance{0, 0};
  const bool ample = ::geteuid() == 0 || (getrlimit(RLIMIT_MEMLOCK, &allowance) == 0 &&
                                          allowance.rlim_cur == RLIM_INFINITY);
  return ample && mlockall(MCL_CURRENT | MCL_FUTURE) == 0;
}

}  // namespace redress::assessment
