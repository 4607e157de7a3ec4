// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the window is measured against: SDL2, OpenGL 3.3 and Dear ImGui with its own font and a few
// words, nothing else. Prints what its first frames cost. Not part of the program.
//
//   c++ -std=c++20 -O2 -I. tests/bench/bare_window.cpp $(pkg-config --cflags --libs imgui sdl2)
//   -lGL
#include <SDL2/SDL.h>
#include <SDL2/SDL_opengl.h>
#include <backends/imgui_impl_opengl3.h>
#include <backends/imgui_impl_sdl.h>
#include <imgui.h>

#include <cstdio>
#include <cstdlib>

#include "render/app/process_figures.hpp"

int main(int argc, char** argv) {
  const int frames = argc > 1 ? std::atoi(argv[1]) : 5;
  if (SDL_Init(SDL_INIT_VIDEO) != 0) return 1;
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 3);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_CORE);
  SDL_GL_SetAttribute(SDL_GL_DEPTH_SIZE, 0);
  SDL_Window* window = SDL_CreateWindow("bare", SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED,
                                        1280, 720, SDL_WINDOW_OPENGL);
  SDL_GLContext context = window == nullptr ? nullptr : SDL_GL_CreateContext(window);
  if (context == nullptr) return 1;
  SDL_GL_SetSwapInterval(0);
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  ImGui_ImplSDL2_InitForOpenGL(window, context);
  ImGui_ImplOpenGL3_Init("#version 330");
  for (int i = 0; i < frames; ++i) {
    SDL_Event event;
    while (SDL_PollEvent(&event) != 0) ImGui_ImplSDL2_ProcessEvent(&event);
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplSDL2_NewFrame();
    ImGui::NewFrame();
    ImGui::Begin("bare");
    ImGui::TextUnformatted("A few words");
    ImGui::Button("and a button");
    ImGui::End();
    ImGui::Render();
    glClearColor(0.9F, 0.9F, 0.9F, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    SDL_GL_SwapWindow(window);
    glFinish();
    if (i == 0) {
      const redress::app::ProcessFigures f = redress::app::read_process_figures();
      std::fprintf(stderr, "first frame after %.0f ms of clock, %.0f ms of processor\n",
                   f.since_start_ms, f.processor_ms);
    }
  }
  const redress::app::ProcessFigures f = redress::app::read_process_figures();
  std::fprintf(stderr, "memory %.0f MiB now, %.0f at most\n", f.resident_mib, f.most_resident_mib);
  return 0;
}
