// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/window/imgui_link.hpp"

#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>
#include <cfloat>
#include <string>

#include "render/window/window.hpp"

namespace redress::window {

namespace {

struct Named {
  ImGuiKey_ imgui;
  Key key;
};
constexpr Named kNamed[] = {
    {ImGuiKey_Tab, Key::tab},
    {ImGuiKey_LeftArrow, Key::left},
    {ImGuiKey_RightArrow, Key::right},
    {ImGuiKey_UpArrow, Key::up},
    {ImGuiKey_DownArrow, Key::down},
    {ImGuiKey_PageUp, Key::page_up},
    {ImGuiKey_PageDown, Key::page_down},
    {ImGuiKey_Home, Key::home},
    {ImGuiKey_End, Key::end},
    {ImGuiKey_Insert, Key::insert},
    {ImGuiKey_Delete, Key::delete_forward},
    {ImGuiKey_Backspace, Key::backspace},
    {ImGuiKey_Space, Key::space},
    {ImGuiKey_Enter, Key::enter},
    {ImGuiKey_Escape, Key::escape},
    {ImGuiKey_KeyPadEnter, Key::pad_enter},
    {ImGuiKey_A, Key::a},
    {ImGuiKey_C, Key::c},
    {ImGuiKey_V, Key::v},
    {ImGuiKey_X, Key::x},
    {ImGuiKey_Y, Key::y},
    {ImGuiKey_Z, Key::z},
};

/// Held keys that do their work again each time the system repeats them.
bool repeats(Key key) {
  return key != Key::enter && key != Key::pad_enter && key != Key::space && key != Key::escape;
}

const char* read_clipboard(void* user) {
  static std::string kept;  // Dear ImGui wants a pointer that outlives the call
  kept = static_cast<Window*>(user)->clipboard();
  return kept.c_str();
}

void write_clipboard(void* user, const char* text) {
  static_cast<Window*>(user)->set_clipboard(text);
}

template <class... F>
struct Overload : F... {
  using F::operator()...;
};
template <class... F>
Overload(F...) -> Overload<F...>;

}  // namespace

ImguiLink::ImguiLink(Window* window, ImFontAtlas* fonts) : window_(window) {
  IMGUI_CHECKVERSION();
  context_ = ImGui::CreateContext(fonts);
  ImGui::SetCurrentContext(context_);
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.ConfigFlags = ImGuiConfigFlags_NoMouseCursorChange;
  io.MousePos = {-FLT_MAX, -FLT_MAX};
  // The system says when a held key repeats. Dear ImGui would count frames' times instead, and take
  // a key that was let go within one slow frame for a held one.
  io.KeyRepeatDelay = FLT_MAX;
  for (const Named& each : kNamed) io.KeyMap[each.imgui] = static_cast<int>(each.key);
  if (window != nullptr) {
    io.ClipboardUserData = window;
    io.GetClipboardTextFn = read_clipboard;
    io.SetClipboardTextFn = write_clipboard;
  }
}

ImguiLink::~ImguiLink() {
  ImGui::SetCurrentContext(context_);
  if (drawing_) ImGui_ImplOpenGL3_Shutdown();
  ImGui::DestroyContext(context_);
}

bool ImguiLink::apply(const InputEvent& event) {
  ImGuiIO& io = ImGui::GetIO();
  const auto move_to = [&](double x, double y) {
    io.MousePos = {static_cast<float>(x), static_cast<float>(y)};
  };
  return std::visit(Overload{
                        [&](const input::PointerMove& e) {
                          if (buttons_changed_ != 0) return false;
                          move_to(e.x_px, e.y_px);
                          return true;
                        },
                        [&](const input::PointerButton& e) {
                          const auto button = static_cast<unsigned>(e.button);
                          if (buttons_changed_ != 0 || any_key_changed_) return false;
                          move_to(e.x_px, e.y_px);
                          io.MouseDown[button] = e.down;
                          buttons_changed_ |= 1U << button;
                          return true;
                        },
                        [&](const input::Wheel& e) {
                          io.MouseWheel += static_cast<float>(e.notches);
                          io.MouseWheelH += static_cast<float>(e.sideways);
                          return true;
                        },
                        [&](const input::KeyChange& e) {
                          const auto index = static_cast<std::size_t>(e.key);
                          if (index >= std::size(key_changed_)) return true;
                          if (e.repeat) {
                            // Not held for any time yet: it counts as pressed in this frame.
                            if (io.KeysDown[index] && repeats(e.key)) {
                              io.KeysDownDuration[index] = -1;
                            }
                            return true;
                          }
                          // A key counts with what was held as it went down: Shift let go in the
                          // same frame, because frames are slow, must not take it away.
                          const bool as_held = io.KeyCtrl == event.modifiers.control &&
                                               io.KeyShift == event.modifiers.shift &&
                                               io.KeyAlt == event.modifiers.alt;
                          if (any_key_changed_ && !as_held) return false;
                          // Text that was typed before this key must be taken first.
                          if (key_changed_[index] || buttons_changed_ != 0 ||
                              (e.down && io.InputQueueCharacters.Size > 0)) {
                            return false;
                          }
                          io.KeysDown[index] = e.down;
                          io.KeyCtrl = event.modifiers.control;
                          io.KeyShift = event.modifiers.shift;
                          io.KeyAlt = event.modifiers.alt;
                          key_changed_[index] = true;
                          any_key_changed_ = true;
                          return true;
                        },
                        [&](const input::Text& e) {
                          io.AddInputCharactersUTF8(e.text.c_str());
                          return true;
                        },
                        [&](const input::PointerInside& e) {
                          if (!e.inside && !io.MouseDown[0]) io.MousePos = {-FLT_MAX, -FLT_MAX};
                          return true;
                        },
                        [&](const input::WindowFocus& e) {
                          io.AddFocusEvent(e.focused);
                          if (!e.focused)
                            std::fill(std::begin(io.KeysDown), std::end(io.KeysDown), false);
                          return true;
                        },
                        [](const auto&) { return true; },
                    },
                    event.content);
}

void ImguiLink::begin_frame(int width_px, int height_px, double seconds) {
  ImGui::SetCurrentContext(context_);
  buttons_changed_ = 0;
  any_key_changed_ = false;
  std::fill(std::begin(key_changed_), std::end(key_changed_), false);
  while (!waiting_.empty() && apply(waiting_.front())) waiting_.pop_front();
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {static_cast<float>(std::max(1, width_px)),
                    static_cast<float>(std::max(1, height_px))};
  io.DeltaTime = static_cast<float>(std::clamp(seconds, 1e-4, 1.0));
  if (window_ != nullptr) {
    if (!drawing_) {
      ImGui_ImplOpenGL3_Init("#version 330 core");
      ImGui_ImplOpenGL3_CreateDeviceObjects();
      io.Fonts->ClearTexData();
      drawing_ = true;
    }
    // A new set of fonts came with another scale.
    if (io.Fonts->TexID == nullptr) {
      ImGui_ImplOpenGL3_DestroyFontsTexture();
      ImGui_ImplOpenGL3_CreateFontsTexture();
      io.Fonts->ClearTexData();
    }
    ImGui_ImplOpenGL3_NewFrame();
  }
  ImGui::NewFrame();
}

void ImguiLink::forget_graphics() {
  ImGui::SetCurrentContext(context_);
  if (drawing_) ImGui_ImplOpenGL3_Shutdown();
  drawing_ = false;
}

void ImguiLink::end_frame_and_draw() {
  ImGui::Render();
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
}

void ImguiLink::end_frame() { ImGui::Render(); }

}  // namespace redress::window
