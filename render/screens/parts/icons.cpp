// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/parts/icons.hpp"

#include <imgui.h>

#include <cmath>
#include <initializer_list>
#include <numbers>

namespace redress::screens {

namespace {

/// A pen in a box of 24.
class Pen {
 public:
  Pen(Ui& ui, Point centre, Token token, float size)
      : ui_(ui),
        token_(token),
        unit_(size / 24),
        left_(centre.x - size / 2),
        top_(centre.y - size / 2) {}

  void stroke(std::initializer_list<Point> points, bool closed = false) {
    ImDrawList& list = ui_.draw_list();
    for (const Point& p : points) list.PathLineTo(at(p));
    list.PathStroke(ui_.colour(token_), closed ? ImDrawFlags_Closed : 0, width());
  }
  void arc(Point middle, float radius, float from, float to) {
    ImDrawList& list = ui_.draw_list();
    list.PathArcTo(at(middle), ui_.to_pixels(radius * unit_), from, to, 24);
    list.PathStroke(ui_.colour(token_), 0, width());
  }
  void circle(Point middle, float radius) {
    ui_.draw_list().AddCircle(at(middle), ui_.to_pixels(radius * unit_), ui_.colour(token_), 0,
                              width());
  }
  void dot(Point middle, float radius) {
    ui_.draw_list().AddCircleFilled(at(middle), ui_.to_pixels(radius * unit_), ui_.colour(token_));
  }
  void fill(std::initializer_list<Point> points) {
    ImDrawList& list = ui_.draw_list();
    for (const Point& p : points) list.PathLineTo(at(p));
    list.PathFillConvex(ui_.colour(token_));
  }
  void half_disc(Point middle, float radius) {
    constexpr float kQuarter = std::numbers::pi_v<float> / 2;
    ImDrawList& list = ui_.draw_list();
    list.PathArcTo(at(middle), ui_.to_pixels(radius * unit_), kQuarter, 3 * kQuarter, 24);
    list.PathFillConvex(ui_.colour(token_));
  }
  void star(bool full) {
    ImDrawList& list = ui_.draw_list();
    constexpr float kPi = std::numbers::pi_v<float>;
    const auto corner = [&](int i) {
      const float radius = i % 2 == 0 ? 9.5F : 4.0F;
      const float angle = -kPi / 2 + static_cast<float>(i) * kPi / 5;
      return at({12 + radius * std::cos(angle), 12.6F + radius * std::sin(angle)});
    };
    if (full) {
      for (int i = 0; i < 10; i += 2) {
        list.AddTriangleFilled(at({12, 12.6F}), corner(i + 9), corner(i), ui_.colour(token_));
        list.AddTriangleFilled(at({12, 12.6F}), corner(i), corner(i + 1), ui_.colour(token_));
      }
    }
    for (int i = 0; i < 10; ++i) list.PathLineTo(corner(i));
    list.PathStroke(ui_.colour(token_), ImDrawFlags_Closed, width());
  }

 private:
  [[nodiscard]] ImVec2 at(Point p) const {
    return {ui_.to_pixels(left_ + p.x * unit_), ui_.to_pixels(top_ + p.y * unit_)};
  }
  [[nodiscard]] float width() const { return ui_.to_pixels(1.8F * unit_); }

  Ui& ui_;
  Token token_;
  float unit_;
  float left_;
  float top_;
};

void draw_more(Pen& pen, Icon which) {
  constexpr float kPi = std::numbers::pi_v<float>;
  switch (which) {
    case Icon::card:
      pen.stroke({{6, 3}, {18, 3}, {18, 21}, {6, 21}}, true);
      pen.stroke({{9, 8}, {15, 8}});
      pen.stroke({{9, 12}, {15, 12}});
      pen.stroke({{9, 16}, {13, 16}});
      return;
    case Icon::eye:
      pen.arc({12, 19}, 12.2F, -kPi + 0.62F, -0.62F);
      pen.arc({12, 5}, 12.2F, 0.62F, kPi - 0.62F);
      pen.circle({12, 12}, 3);
      return;
    case Icon::occluder:
      pen.circle({12, 8}, 6);
      pen.stroke({{12, 14}, {12, 22}});
      return;
    case Icon::pull:
      pen.stroke({{6, 6}, {18, 18}});
      pen.stroke({{18, 9}, {18, 18}, {9, 18}});
      return;
    case Icon::clock:
      pen.circle({12, 12}, 9);
      pen.stroke({{12, 7}, {12, 12}, {16, 14}});
      return;
    case Icon::note: pen.fill({{12, 5}, {20, 19}, {4, 19}}); return;
    case Icon::search:
      pen.circle({10.5F, 10.5F}, 6.5F);
      pen.stroke({{15.5F, 15.5F}, {21, 21}});
      return;
    case Icon::star: pen.star(false); return;
    case Icon::star_full: pen.star(true); return;
    case Icon::play: pen.fill({{7, 4}, {20, 12}, {7, 20}}); return;
    case Icon::pause:
      pen.fill({{6, 5}, {10, 5}, {10, 19}, {6, 19}});
      pen.fill({{14, 5}, {18, 5}, {18, 19}, {14, 19}});
      return;
    default: return;
  }
}

}  // namespace

void icon(Ui& ui, Icon which, Point centre, Token token, float size) {
  Pen pen(ui, centre, token, size);
  switch (which) {
    case Icon::none: return;
    case Icon::back: pen.stroke({{15, 5}, {8, 12}, {15, 19}}); return;
    case Icon::forward: pen.stroke({{9, 5}, {16, 12}, {9, 19}}); return;
    case Icon::down: pen.stroke({{5, 9}, {12, 16}, {19, 9}}); return;
    case Icon::speech:
      pen.stroke({{4, 4}, {20, 4}, {20, 16}, {11, 16}, {7, 20}, {7, 16}, {4, 16}}, true);
      return;
    case Icon::caution:
      pen.stroke({{12, 3}, {22, 20.5F}, {2, 20.5F}}, true);
      pen.stroke({{12, 9.5F}, {12, 14.5F}});
      pen.dot({12, 17.4F}, 1.2F);
      return;
    case Icon::check: pen.stroke({{4, 13}, {9.5F, 18.5F}, {20, 6}}); return;
    case Icon::cross:
      pen.stroke({{5, 5}, {19, 19}});
      pen.stroke({{19, 5}, {5, 19}});
      return;
    case Icon::half:
      pen.circle({12, 12}, 8);
      pen.half_disc({12, 12}, 8);
      return;
    case Icon::minus: pen.stroke({{5, 12}, {19, 12}}); return;
    case Icon::plus:
      pen.stroke({{5, 12}, {19, 12}});
      pen.stroke({{12, 5}, {12, 19}});
      return;
    default: draw_more(pen, which); return;
  }
}

}  // namespace redress::screens
