// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/parts/fonts.hpp"

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <span>
#include <vector>

namespace redress::screens {

namespace {

constexpr std::array<TextMeasure, kTextStyleCount> kMeasures{{
    {34, 40, true},
    {24, 32, true},
    {18, 26, true},
    {15, 22, true},
    {15, 22, false},
    {13, 18, true},
    {13, 18, false},
}};

// Where Debian's fonts-inter and fonts-dejavu-core put them, then where others do.
constexpr std::array<const char*, 3> kRegular{"/usr/share/fonts/opentype/inter/Inter-Regular.otf",
                                              "/usr/share/fonts/truetype/inter/Inter-Regular.ttf",
                                              "/usr/local/share/fonts/Inter-Regular.otf"};
constexpr std::array<const char*, 3> kSemiBold{"/usr/share/fonts/opentype/inter/Inter-SemiBold.otf",
                                               "/usr/share/fonts/truetype/inter/Inter-SemiBold.ttf",
                                               "/usr/local/share/fonts/Inter-SemiBold.otf"};
constexpr std::array<const char*, 2> kFallback{"/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf",
                                               "/usr/share/fonts/dejavu-sans-fonts/DejaVuSans.ttf"};

/// First and last letter.
struct Range {
  ImWchar first;
  ImWchar last;
};
// What the screens are written with; Inter has all of it.
constexpr Range kPlain[] = {{0x0020, 0x007E}, {0x00A0, 0x00A0},                    // no-break space
                            {0x00A7, 0x00A7}, {0x00B0, 0x00B2}, {0x00B7, 0x00B7},  // § ° ± ² ·
                            {0x00D7, 0x00D7}, {0x0394, 0x0394},                    // × Δ
                            {0x2013, 0x2014}, {0x2018, 0x2019}, {0x201C, 0x201D},  // – — ‘ ’ “ ”
                            {0x2026, 0x2026}, {0x2032, 0x2033}, {0x2039, 0x203A},  // … ′ ″ ‹ ›
                            {0x2190, 0x2193}, {0x2212, 0x2212}};  // ← ↑ → ↓ −
constexpr Range kLatin[] = {{0x00A0, 0x00FF}, {0x03B8, 0x03B8}, {0x03D5, 0x03D5},  // θ ϕ
                            {0x2010, 0x203A}, {0x2295, 0x2295}, {0x25B2, 0x25CF},  // ⊕ ▲ ▶ ○ ●
                            {0x2605, 0x2606}, {0x2713, 0x2713}};                   // ★ ☆ ✓
constexpr Range kExtended[] = {{0x0100, 0x017F}};

/// As Dear ImGui takes them, which makes a letter of two ranges once.
std::vector<ImWchar> make_ranges(Letters letters) {
  std::vector<ImWchar> ranges;
  const auto add = [&](std::span<const Range> more) {
    for (const Range& each : more) ranges.insert(ranges.end(), {each.first, each.last});
  };
  add(kPlain);
  if (letters != Letters::plain) add(kLatin);
  if (letters == Letters::extended) add(kExtended);
  ranges.push_back(0);
  return ranges;
}

bool holds(std::span<const Range> ranges, unsigned letter) {
  return std::any_of(ranges.begin(), ranges.end(), [letter](const Range& each) {
    return letter >= each.first && letter <= each.last;
  });
}

/// A file's bytes, read once for all the sizes made of it; empty: there is none.
using Bytes = std::vector<char>;

template <std::size_t N>
Bytes read_first(const std::array<const char*, N>& places) {
  for (const char* place : places) {
    std::ifstream in(place, std::ios::binary | std::ios::ate);
    const std::streamoff size = in ? static_cast<std::streamoff>(in.tellg()) : 0;
    if (size <= 0) continue;
    Bytes bytes(static_cast<std::size_t>(size));
    in.seekg(0);
    if (in.read(bytes.data(), size)) return bytes;
  }
  return {};
}

/// The atlas believes the bytes to be its own: it would copy them for each size otherwise.
ImFont* add_font(ImFontAtlas& atlas, Bytes& file, float pixels, ImFontConfig config) {
  config.FontDataOwnedByAtlas = true;
  return atlas.AddFontFromMemoryTTF(file.data(), static_cast<int>(file.size()), pixels, &config);
}

}  // namespace

TextMeasure measure_of(TextStyle style) { return kMeasures[static_cast<std::size_t>(style)]; }

Letters find_letters(std::string_view text) {
  Letters least = Letters::plain;
  const char* const end = text.data() + text.size();
  for (const char* at = text.data(); at < end;) {
    if (static_cast<unsigned char>(*at) < 0x80U) {
      ++at;
      continue;
    }
    unsigned letter = 0;
    at += std::max(1, ImTextCharFromUtf8(&letter, at, end));
    if (holds(kExtended, letter)) return Letters::extended;
    if (!holds(kPlain, letter)) least = Letters::latin;
  }
  return least;
}

Fonts make_fonts(ImFontAtlas& atlas, float scale, Letters letters) {
  atlas.Clear();
  atlas.SetTexID(nullptr);  // what the old picture of the atlas was known by
  atlas.Flags |= ImFontAtlasFlags_NoMouseCursors;
  const std::vector<ImWchar> ranges = make_ranges(letters);
  Fonts fonts;
  fonts.scale = scale;
  fonts.letters = letters;
  Bytes regular = read_first(kRegular);
  Bytes semibold = read_first(kSemiBold);
  const bool lacks = letters != Letters::plain || regular.empty() || semibold.empty();
  Bytes fallback = lacks ? read_first(kFallback) : Bytes{};
  if (regular.empty() || semibold.empty()) {
    fonts.trouble = "Inter is not installed (Debian: fonts-inter); another typeface is used.";
  }
  for (int i = 0; i < kTextStyleCount; ++i) {
    const TextMeasure measure = kMeasures[static_cast<std::size_t>(i)];
    const float pixels = measure.size * scale;
    Bytes& inter = measure.semibold ? semibold : regular;
    ImFontConfig config;
    config.OversampleH = pixels < 24 ? 2 : 1;
    config.OversampleV = 1;
    config.GlyphRanges = ranges.data();
    // The height of Inter's box is 1.21 of its size, and ImGui scales the box to what it is given.
    constexpr float kBoxOfInter = 1.2102F;
    ImFont* made = nullptr;
    if (!inter.empty()) {
      made = add_font(atlas, inter, pixels * kBoxOfInter, config);
      config.MergeMode = true;
    }
    if (!fallback.empty()) {
      ImFont* const added = add_font(atlas, fallback, pixels, config);
      if (made == nullptr) made = added;
    }
    if (made == nullptr) {
      ImFontConfig bitmap;
      bitmap.SizePixels = pixels;
      made = atlas.AddFontDefault(&bitmap);
      fonts.trouble = "Neither Inter nor DejaVu Sans is installed.";
    }
    fonts.font[static_cast<std::size_t>(i)] = made;
  }
  const auto is_of_file = [&](const void* data) {
    return data == regular.data() || data == semibold.data() || data == fallback.data();
  };
  atlas.Build();
  // As a graphics card takes it: here it costs no time of the first frame's.
  unsigned char* colours = nullptr;
  int width = 0;
  int height = 0;
  atlas.GetTexDataAsRGBA32(&colours, &width, &height);
  for (ImFontConfig& config : atlas.ConfigData) {  // the files' bytes end here
    if (config.FontDataOwnedByAtlas && is_of_file(config.FontData)) config.FontData = nullptr;
  }
  atlas.ClearInputData();
  return fonts;
}

}  // namespace redress::screens
