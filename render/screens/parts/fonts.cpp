// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/parts/fonts.hpp"

#include <imgui.h>

#include <array>
#include <fstream>
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

// Latin-1 and the signs that the screens use; the first line gives way to kExtended's.
constexpr ImWchar kLatin1End = 0x00FF;
constexpr ImWchar kExtendedEnd = 0x017F;
constexpr std::array<ImWchar, 23> kGlyphs{0x0020, kLatin1End, 0x0394, 0x0394,  // Δ
                                          0x03B8, 0x03B8,                      // θ
                                          0x03D5, 0x03D5,                      // ϕ
                                          0x2013, 0x201D,  // – — ‘ ’ “ ”
                                          0x2026, 0x203A,  // … ′ ″ ‹ ›
                                          0x2190, 0x2193,  // ← ↑ → ↓
                                          0x2212, 0x2212,  // −
                                          0x25B2, 0x25CF,  // ▲ ▶ ○ ●
                                          0x2605, 0x2606,  // ★ ☆
                                          0x2713, 0x2713,  // ✓
                                          0};
constexpr std::array<ImWchar, 19> kSigns{0x0394, 0x0394, 0x03B8, 0x03B8, 0x03D5, 0x03D5, 0x2032,
                                         0x2033, 0x2190, 0x2193, 0x2295, 0x2295, 0x25B2, 0x25CF,
                                         0x2605, 0x2606, 0x2713, 0x2713, 0};

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

ImFont* add_font(ImFontAtlas& atlas, Bytes& file, float pixels, ImFontConfig config) {
  config.FontDataOwnedByAtlas = false;
  return atlas.AddFontFromMemoryTTF(file.data(), static_cast<int>(file.size()), pixels, &config);
}

}  // namespace

TextMeasure measure_of(TextStyle style) { return kMeasures[static_cast<std::size_t>(style)]; }

Fonts make_fonts(ImFontAtlas& atlas, float scale, bool extended) {
  atlas.Clear();
  atlas.SetTexID(nullptr);  // what the old picture of the atlas was known by
  atlas.Flags |= ImFontAtlasFlags_NoMouseCursors;
  std::array<ImWchar, 23> glyphs = kGlyphs;
  if (extended) glyphs[1] = kExtendedEnd;
  Fonts fonts;
  fonts.scale = scale;
  fonts.extended = extended;
  Bytes regular = read_first(kRegular);
  Bytes semibold = read_first(kSemiBold);
  Bytes fallback = read_first(kFallback);
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
    config.GlyphRanges = glyphs.data();
    // The height of Inter's box is 1.21 of its size, and ImGui scales the box to what it is given.
    constexpr float kBoxOfInter = 1.2102F;
    ImFont* made = nullptr;
    if (!inter.empty()) {
      made = add_font(atlas, inter, pixels * kBoxOfInter, config);
      config.MergeMode = true;
      config.GlyphRanges = kSigns.data();
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
  atlas.Build();
  atlas.ClearInputData();  // the files' bytes end here
  return fonts;
}

}  // namespace redress::screens
