# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# The picture of the patient: redress_picture. Debian packages: libglm-dev python3-glad libstb-dev
# libegl-dev libgl1-mesa-dri libegl1 libegl-mesa0 (the last three to run).
get_filename_component(REDRESS_ROOT "${CMAKE_CURRENT_LIST_DIR}/.." ABSOLUTE)

find_package(glm REQUIRED)
find_package(Threads REQUIRED)
find_package(OpenGL REQUIRED COMPONENTS EGL)
find_path(REDRESS_STB_INCLUDE stb/stb_image_write.h REQUIRED)
find_program(REDRESS_GLAD glad REQUIRED)

set(REDRESS_GLAD_DIR "${CMAKE_CURRENT_BINARY_DIR}/glad")
add_custom_command(
  OUTPUT "${REDRESS_GLAD_DIR}/src/gl.c" "${REDRESS_GLAD_DIR}/include/glad/gl.h"
  COMMAND "${REDRESS_GLAD}" --quiet --api gl:core=3.3 --extensions GL_KHR_debug,GL_KHR_robustness
          --reproducible --out-path "${REDRESS_GLAD_DIR}" c
  COMMENT "glad: OpenGL 3.3 core loader"
  VERBATIM)
add_library(redress_glad STATIC "${REDRESS_GLAD_DIR}/src/gl.c"
            "${REDRESS_GLAD_DIR}/include/glad/gl.h")
target_include_directories(redress_glad SYSTEM PUBLIC "${REDRESS_GLAD_DIR}/include")
target_link_libraries(redress_glad PUBLIC ${CMAKE_DL_LIBS})

set(REDRESS_SHADERS
    blade.frag blade.glsl blade.vert engraving.frag eye.frag frame.glsl glass.glsl hair.frag hair.vert
    hand.frag hand_map.frag held_shadow.frag hole.frag instrument.vert lens.frag light.glsl map.vert occluder.frag
    plate.glsl prism.frag prism_middle.frag prism_middle.vert quad.vert shadow.frag shadow.glsl
    skin.frag skin.vert spectacles.frag stored.glsl wedge.glsl)
list(TRANSFORM REDRESS_SHADERS PREPEND "${REDRESS_ROOT}/assets/shaders/")
set(REDRESS_SHADER_SOURCE "${CMAKE_CURRENT_BINARY_DIR}/embedded_shaders.cpp")
string(REPLACE ";" "|" REDRESS_SHADER_LIST "${REDRESS_SHADERS}")
add_custom_command(
  OUTPUT "${REDRESS_SHADER_SOURCE}"
  COMMAND "${CMAKE_COMMAND}" "-DOUT=${REDRESS_SHADER_SOURCE}" "-DFILES=${REDRESS_SHADER_LIST}" -P
          "${REDRESS_ROOT}/render/gl/embed_shaders.cmake"
  DEPENDS ${REDRESS_SHADERS} "${REDRESS_ROOT}/render/gl/embed_shaders.cmake"
  COMMENT "shaders into the binary"
  VERBATIM)

add_library(
  redress_picture STATIC
  "${REDRESS_SHADER_SOURCE}"
  "${REDRESS_ROOT}/render/draw/engraving.cpp"
  "${REDRESS_ROOT}/render/draw/hand_map.cpp"
  "${REDRESS_ROOT}/render/draw/instrument_painter.cpp"
  "${REDRESS_ROOT}/render/draw/occluder_painter.cpp"
  "${REDRESS_ROOT}/render/draw/patient_picture.cpp"
  "${REDRESS_ROOT}/render/draw/picture_timing.cpp"
  "${REDRESS_ROOT}/render/draw/png.cpp"
  "${REDRESS_ROOT}/render/draw/prism_painter.cpp"
  "${REDRESS_ROOT}/render/draw/spectacle_painter.cpp"
  "${REDRESS_ROOT}/render/face/brows.cpp"
  "${REDRESS_ROOT}/render/face/camera.cpp"
  "${REDRESS_ROOT}/render/face/eye_maps.cpp"
  "${REDRESS_ROOT}/render/face/eye_painter.cpp"
  "${REDRESS_ROOT}/render/face/fidget.cpp"
  "${REDRESS_ROOT}/render/face/face_layer.cpp"
  "${REDRESS_ROOT}/render/face/face_model.cpp"
  "${REDRESS_ROOT}/render/face/head_mesh.cpp"
  "${REDRESS_ROOT}/render/face/invention.cpp"
  "${REDRESS_ROOT}/render/face/lashes.cpp"
  "${REDRESS_ROOT}/render/face/lid_mesh.cpp"
  "${REDRESS_ROOT}/render/face/lids.cpp"
  "${REDRESS_ROOT}/render/face/light_map.cpp"
  "${REDRESS_ROOT}/render/face/noise.cpp"
  "${REDRESS_ROOT}/render/face/nose.cpp"
  "${REDRESS_ROOT}/render/face/people.cpp"
  "${REDRESS_ROOT}/render/face/pigment_map.cpp"
  "${REDRESS_ROOT}/render/face/relief.cpp"
  "${REDRESS_ROOT}/render/face/skin_detail.cpp"
  "${REDRESS_ROOT}/render/face/traits.cpp"
  "${REDRESS_ROOT}/render/gl/debug.cpp"
  "${REDRESS_ROOT}/render/gl/mesh.cpp"
  "${REDRESS_ROOT}/render/gl/offscreen.cpp"
  "${REDRESS_ROOT}/render/gl/program.cpp"
  "${REDRESS_ROOT}/render/gl/stored.cpp"
  "${REDRESS_ROOT}/render/gl/texture.cpp")
target_compile_features(redress_picture PUBLIC cxx_std_20)
target_include_directories(redress_picture PUBLIC "${REDRESS_ROOT}")
target_include_directories(redress_picture SYSTEM PRIVATE "${REDRESS_STB_INCLUDE}")
target_link_libraries(redress_picture PUBLIC redress_glad glm::glm Threads::Threads
                      PRIVATE OpenGL::EGL)

foreach(shared redress_options redress_warnings)  # of the whole repository, where there is one
  if(TARGET ${shared})
    target_link_libraries(redress_picture PRIVATE ${shared})
  endif()
endforeach()

# Only on request: sheets of pictures to look at, and timings.
add_executable(redress_contact_sheet EXCLUDE_FROM_ALL
               "${REDRESS_ROOT}/render/draw/contact_sheet.cpp")
target_link_libraries(redress_contact_sheet PRIVATE redress_picture)
