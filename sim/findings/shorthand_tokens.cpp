// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/shorthand_tokens.hpp"

#include <array>
#include <utility>

namespace redress::findings {

namespace {

constexpr std::string_view kMacron = "\u0304";  // the bar over c and s

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
char to_capital(char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; }

/// Signs of one character each, and the word they stand for.
constexpr std::array<std::pair<std::string_view, std::string_view>, 17> kSigns{{
    {"Δ", "Δ"},
    {"∆", "Δ"},
    {"^", "Δ"},
    {"Ø", "Ø"},
    {"ø", "Ø"},
    {"∅", "Ø"},
    {"ϕ", "ϕ"},
    {"φ", "ϕ"},
    {"Φ", "ϕ"},
    {"θ", "θ"},
    {"Θ", "θ"},
    {"⊕", "⊕"},
    {"″", "INCH"},
    {"½", "½"},
    {"δ", "Δ"},
    {"°", "°"},
    {"º", "°"},
}};
constexpr std::array<std::string_view, 5> kPrimes{"′", "’", "‘", "'", "`"};
/// Parts words and says nothing.
constexpr std::array<std::string_view, 10> kBlanks{" ", "\t", "(", ")", ":",
                                                   "/", ".",  "=", "–", "\u00a0"};

class Cutter {
 public:
  explicit Cutter(std::string_view line) : line_(line) {}

  std::vector<Token> cut() {
    while (at_ < line_.size()) {
      if (skip(kBlanks)) continue;
      const std::size_t from = at_;
      Token token = cut_one();
      token.at = from;
      token.length = at_ - from;
      tokens_.push_back(std::move(token));
    }
    return std::move(tokens_);
  }

 private:
  [[nodiscard]] char peek(std::size_t ahead = 0) const {
    return at_ + ahead < line_.size() ? line_[at_ + ahead] : '\0';
  }
  [[nodiscard]] bool stands(std::string_view text) const {
    return line_.substr(at_).starts_with(text);
  }
  template <std::size_t N>
  bool skip(const std::array<std::string_view, N>& any) {
    for (const std::string_view text : any) {
      if (!stands(text)) continue;
      at_ += text.size();
      return true;
    }
    return false;
  }

  Token cut_one() {
    if (is_digit(peek()) || (to_capital(peek()) == 'X' && peek(1) == '/' && is_digit(peek(2)))) {
      return cut_numbers();
    }
    if (is_letter(peek())) return cut_word();
    if (skip(kPrimes)) return {TokenKind::prime, "′", {}, 0, 0};
    if (peek() == ',' || peek() == ';') {
      ++at_;
      return {TokenKind::next, ",", {}, 0, 0};
    }
    if (peek() == '"') return cut_quote("\"", "\"");
    if (stands("“")) return cut_quote("“", "”");
    for (const auto& [sign, word] : kSigns) {
      if (!stands(sign)) continue;
      at_ += sign.size();
      return {TokenKind::word, std::string(word), {}, 0, 0};
    }
    return cut_character();
  }

  // One character, whole if it is well-formed UTF-8.
  Token cut_character() {
    const std::size_t from = at_++;
    while ((static_cast<unsigned char>(peek()) & 0xC0U) == 0x80U) ++at_;
    return {TokenKind::other, std::string(line_.substr(from, at_ - from)), {}, 0, 0};
  }

  // A quotation mark right after a number says inches.
  Token cut_quote(std::string_view open, std::string_view close) {
    if (open == "\"" && at_ > 0 && is_digit(line_[at_ - 1])) {
      ++at_;
      return {TokenKind::word, "INCH", {}, 0, 0};
    }
    at_ += open.size();
    const std::size_t end = line_.find(close, at_);
    const std::size_t to = end == std::string_view::npos ? line_.size() : end;
    Token token{TokenKind::quote, std::string(line_.substr(at_, to - at_)), {}, 0, 0};
    at_ = end == std::string_view::npos ? to : to + close.size();
    return token;
  }

  double cut_number() {
    double value = 0.0;
    while (is_digit(peek())) value = 10.0 * value + (line_[at_++] - '0');
    if (peek() == '.' && is_digit(peek(1))) {
      ++at_;
      double scale = 1.0;
      double parts = 0.0;
      while (is_digit(peek())) {
        parts = 10.0 * parts + (line_[at_++] - '0');
        scale *= 10.0;
      }
      value = (value * scale + parts) / scale;
    }
    return value;
  }

  // 9/13, 9 / 13, 4:1, x/7/4.
  Token cut_numbers() {
    Token token;
    token.kind = TokenKind::numbers;
    for (;;) {
      if (to_capital(peek()) == 'X') {
        token.numbers.emplace_back();
        ++at_;
      } else {
        token.numbers.emplace_back(cut_number());
      }
      std::size_t ahead = 0;
      while (peek(ahead) == ' ') ++ahead;
      if (peek(ahead) != '/' && peek(ahead) != ':') break;
      ++ahead;
      while (peek(ahead) == ' ') ++ahead;
      const bool unknown = to_capital(peek(ahead)) == 'X' && !is_letter(peek(ahead + 1));
      if (!is_digit(peek(ahead)) && !unknown) break;
      at_ += ahead;
    }
    return token;
  }

  // XOP, X(T), R/L, AC/A, u/a, c̄, up-R.
  Token cut_word() {
    Token token;
    token.kind = TokenKind::word;
    for (;;) {
      if (is_letter(peek())) {
        token.text += to_capital(line_[at_++]);
      } else if (stands(kMacron)) {
        token.text += kMacron;
        at_ += kMacron.size();
      } else if (peek() == '/' && goes_on_after_slash(token.text)) {
        token.text += line_[at_++];
      } else if (peek() == '-' && goes_on_after_hyphen(token.text)) {
        token.text += line_[at_++];
      } else if (stands("(T)") || stands("(t)")) {
        token.text += "(T)";
        at_ += 3;
        return token;
      } else {
        return token;
      }
    }
  }
  [[nodiscard]] bool goes_on_after_slash(std::string_view so_far) const {
    if (!is_letter(peek(1)) && peek(1) != '(') return false;
    return so_far == "R" || so_far == "L" || so_far == "AC" || so_far == "UCT" || so_far == "U" ||
           so_far == "O";
  }
  // up-R gaze, V-pattern
  [[nodiscard]] bool goes_on_after_hyphen(std::string_view so_far) const {
    if (!is_letter(peek(1))) return false;
    return so_far == "UP" || so_far == "DOWN" || so_far == "A" || so_far == "V";
  }

  std::string_view line_;
  std::size_t at_ = 0;
  std::vector<Token> tokens_;
};

}  // namespace

std::vector<Token> find_tokens(std::string_view line) { return Cutter(line).cut(); }

}  // namespace redress::findings
