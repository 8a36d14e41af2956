// SPDX-License-Identifier: MIT
// What is fed with random bytes: one function a target, each in a file of its name. A target lets pass only
// the complaint that its callee promises for bad input; whatever else is thrown, or trips a sanitizer, is a
// finding.
#pragma once

#include <array>
#include <string_view>

namespace evenspit::fuzz {

void gltf(std::string_view bytes);
void load(std::string_view bytes);
void load_text(std::string_view bytes);
void obj(std::string_view bytes);
void off(std::string_view bytes);
void options(std::string_view bytes);
void pcd(std::string_view bytes);
void ply(std::string_view bytes);
void pts(std::string_view bytes);
void quantity(std::string_view bytes);
void stl(std::string_view bytes);
void xyz(std::string_view bytes);

struct Target {
    std::string_view name;  ///< also of its folder in corpus/
    void (*run)(std::string_view bytes);
};
inline constexpr std::array<Target, 12> targets{{{"gltf", gltf},
                                                 {"load", load},
                                                 {"load_text", load_text},
                                                 {"obj", obj},
                                                 {"off", off},
                                                 {"options", options},
                                                 {"pcd", pcd},
                                                 {"ply", ply},
                                                 {"pts", pts},
                                                 {"quantity", quantity},
                                                 {"stl", stl},
                                                 {"xyz", xyz}}};

}  // namespace evenspit::fuzz
