// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/paper/sheet.hpp"

#include <array>
#include <stdexcept>
#include <utility>
#include <variant>

#include <cairo-pdf.h>
#include <cairo.h>
#include <pango/pangocairo.h>

namespace redress::paper {

namespace {

using namespace assessment;

constexpr const char* kFace = "Inter, DejaVu Sans, Sans";

struct Colour {
  double red, green, blue, alpha;
};
Colour colour_of(Ink ink) {
  switch (ink) {
    case Ink::text: return {0.106, 0.122, 0.133, 1.0};
    case Ink::faint: return {0.298, 0.329, 0.349, 1.0};
    case Ink::rule: return {0.839, 0.824, 0.800, 1.0};
    case Ink::passed: return {0.169, 0.424, 0.471, 1.0};
    case Ink::below: return {0.651, 0.635, 0.604, 1.0};
    case Ink::alarm: return {0.604, 0.165, 0.208, 1.0};
    case Ink::band: return {0.925, 0.925, 0.925, 1.0};
    case Ink::dot: break;
  }
  return {0.169, 0.424, 0.471, 0.5};
}

void set_ink(cairo_t* cairo, Ink ink) {
  const Colour c = colour_of(ink);
  cairo_set_source_rgba(cairo, c.red, c.green, c.blue, c.alpha);
}

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

void draw_line(cairo_t* cairo, double x1, double y1, double x2, double y2, double width, Ink ink) {
  set_ink(cairo, ink);
  cairo_set_line_width(cairo, width);
  cairo_move_to(cairo, x1, y1);
  cairo_line_to(cairo, x2, y2);
  cairo_stroke(cairo);
}
void draw_box(cairo_t* cairo, double x, double y, double width, double height, Ink ink) {
  set_ink(cairo, ink);
  cairo_rectangle(cairo, x, y, width, height);
  cairo_fill(cairo);
}
void draw_dot(cairo_t* cairo, double x, double y, double radius, Ink ink) {
  constexpr double kTurn = 6.283185307179586;
  set_ink(cairo, ink);
  cairo_new_path(cairo);  // no line from where words ended
  cairo_arc(cairo, x, y, radius, 0.0, kTurn);
  cairo_fill(cairo);
}

}  // namespace

Sheet::Sheet(const ReportDocument& document) {
  const double width = document.certificate ? kPaperHeight : kPaperWidth;
  const double height = document.certificate ? kPaperWidth : kPaperHeight;
  surface_ = cairo_pdf_surface_create_for_stream(append, &bytes_, width, height);
  cairo_ = cairo_create(surface_);
  if (cairo_status(cairo_) != CAIRO_STATUS_SUCCESS) {
    throw std::runtime_error(cairo_status_to_string(cairo_status(cairo_)));
  }
  cairo_pdf_surface_set_metadata(surface_, CAIRO_PDF_METADATA_TITLE, document.title.c_str());
  cairo_pdf_surface_set_metadata(surface_, CAIRO_PDF_METADATA_CREATOR, "Redress");
  cairo_pdf_surface_set_metadata(surface_, CAIRO_PDF_METADATA_SUBJECT,
                                 "Performance on simulated patients");
  layout_ = pango_cairo_create_layout(cairo_);
  // Letters stand where the face has them, not on a screen's pixels.
  PangoContext* const context = pango_layout_get_context(layout_);
  pango_context_set_round_glyph_positions(context, FALSE);
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
}

Sheet::~Sheet() {
  if (layout_ != nullptr) g_object_unref(layout_);
  if (cairo_ != nullptr) cairo_destroy(cairo_);
  if (surface_ != nullptr) cairo_surface_destroy(surface_);
}

bool Sheet::set_measuring(bool measuring) { return std::exchange(measuring_, measuring); }

double Sheet::words(const std::string& text, const Place& place) {
  PangoFontDescription* font = pango_font_description_from_string(kFace);
  pango_font_description_set_absolute_size(font, place.size * PANGO_SCALE);
  pango_font_description_set_weight(font,
                                    place.strong ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description(layout_, font);
  pango_font_description_free(font);
  PangoAttrList* attributes = pango_attr_list_new();
  if (place.tabular) {
    pango_attr_list_insert(attributes, pango_attr_font_features_new("tnum=1"));
  }
  pango_layout_set_attributes(layout_, attributes);
  pango_attr_list_unref(attributes);
  constexpr std::array kAlignments{PANGO_ALIGN_LEFT, PANGO_ALIGN_CENTER, PANGO_ALIGN_RIGHT};
  pango_layout_set_alignment(layout_, kAlignments[static_cast<std::size_t>(place.align)]);
  pango_layout_set_width(layout_,
                         place.width > 0.0 ? static_cast<int>(place.width * PANGO_SCALE) : -1);
  pango_layout_set_wrap(layout_, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_text(layout_, text.c_str(), static_cast<int>(text.size()));
  int width = 0;
  int height = 0;
  pango_layout_get_size(layout_, &width, &height);
  if (!measuring_) {
    set_ink(cairo_, place.ink);
    cairo_move_to(cairo_, place.x, place.y);
    pango_cairo_show_layout(cairo_, layout_);
  }
  return static_cast<double>(height) / PANGO_SCALE;
}

void Sheet::rule(double x1, double y, double x2, double width, Ink ink) {
  if (!measuring_) draw_line(cairo_, x1, y, x2, y, width, ink);
}

void Sheet::frame(double inset) {
  double x1 = 0.0;
  double y1 = 0.0;
  double x2 = 0.0;
  double y2 = 0.0;
  cairo_clip_extents(cairo_, &x1, &y1, &x2, &y2);
  set_ink(cairo_, Ink::below);
  cairo_set_line_width(cairo_, 0.8);
  cairo_rectangle(cairo_, x1 + inset, y1 + inset, x2 - x1 - 2.0 * inset, y2 - y1 - 2.0 * inset);
  cairo_stroke(cairo_);
}

double Sheet::plot(const Plot& plot, double x, double y, double width) {
  // A plot alone in its row is not blown up.
  const double scale = width > 1.3 * plot.width ? 1.3 : width / plot.width;
  if (measuring_) return plot.height * scale;
  cairo_save(cairo_);
  cairo_translate(cairo_, x, y);
  cairo_scale(cairo_, scale, scale);
  constexpr double kWordsSize = 7.0;
  constexpr double kRoom = 300.0;
  for (const PlotShape& shape : plot.shapes) {
    if (const auto* line = std::get_if<PlotLine>(&shape)) {
      constexpr std::array kDashes{3.0, 2.0};
      if (line->dashed) cairo_set_dash(cairo_, kDashes.data(), 2, 0.0);
      draw_line(cairo_, line->x1, line->y1, line->x2, line->y2, line->width, line->ink);
      cairo_set_dash(cairo_, nullptr, 0, 0.0);
    } else if (const auto* box = std::get_if<PlotBox>(&shape)) {
      draw_box(cairo_, box->x, box->y, box->width, box->height, box->ink);
    } else if (const auto* dot = std::get_if<PlotDot>(&shape)) {
      draw_dot(cairo_, dot->x, dot->y, dot->radius, dot->ink);
    } else if (const auto* said = std::get_if<PlotWords>(&shape)) {
      const double left = said->align == Align::start    ? said->x
                          : said->align == Align::middle ? said->x - 0.5 * kRoom
                                                         : said->x - kRoom;
      constexpr double kAscent = 0.97;  // of Inter's line, above the base
      words(said->words, {left, said->y - kAscent * kWordsSize, kRoom, kWordsSize, said->align,
                          said->strong ? Ink::text : Ink::faint, said->strong});
    }
  }
  cairo_restore(cairo_);
  return plot.height * scale;
}

void Sheet::scale(const ReportCell& cell, double x, double y, double width) {
  if (measuring_) return;
  if (cell.bar) {
    draw_box(cairo_, x, y - 2.6, width, 5.2, Ink::band);
    draw_box(cairo_, x, y - 2.6, width * *cell.bar, 5.2, Ink::below);
  } else {
    draw_line(cairo_, x, y, x + width, y, 0.8, Ink::rule);
  }
  if (cell.mark) {
    draw_line(cairo_, x + width * *cell.mark, y - 4.0, x + width * *cell.mark, y + 4.0, 0.8,
              Ink::faint);
  }
  if (cell.dot) {
    draw_dot(cairo_, x + width * *cell.dot, y, 2.5, cell.alarm ? Ink::alarm : Ink::passed);
  }
}

void Sheet::next_page() { cairo_show_page(cairo_); }

std::string Sheet::finish() {
  cairo_surface_finish(surface_);
  const cairo_status_t status = cairo_surface_status(surface_);
  if (status != CAIRO_STATUS_SUCCESS) throw std::runtime_error(cairo_status_to_string(status));
  return bytes_;
}

}  // namespace redress::paper
