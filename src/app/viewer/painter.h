// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "app/viewer/section.h"
#include "app/viewer/sighting.h"
#include "app/viewer/window_system.h"

namespace evenspit::viewer {

/// How a scene is looked at.
struct Look {
    Camera camera;
    Area area;  ///< of the picture, for the scene
    double turn_rad = 0;
    bool through_skin = false;   ///< skin as glass: bones, hollow and tines show
    double skin_opacity = 0.26;  ///< of that glass, where one looks straight at it
    bool envelope = true;        ///< what the load sweeps, as a veil
    bool cooker = true;
    bool hurried = false;  ///< without shadows and smooth edges: for pictures that will not last
    Thing marked;          ///< drawn brighter
    Thing selected{};      ///< with a line round it
    double rim_px = 2.5;   ///< how wide that is
    Hidden things_hidden{};
    const ShapeMesh* marked_shape = nullptr;  ///< so is the piece of that shape; not owned
    bool dark = false;                        ///< before a dark sky
    std::optional<Section> section{};         ///< bodies are cut open there
};

/// Whether a scene that has not changed looks alike.
bool same_look(const Look& a, const Look& b);

/// Draws scenes with OpenGL 3.3 into framebuffer objects of its own; needs a current context all its life,
/// and no window.
class Painter {
  public:
    /// \throws std::runtime_error if the graphics system refuses the shaders
    Painter();
    Painter(const Painter&) = delete;
    Painter& operator=(const Painter&) = delete;
    ~Painter();

    /// Draws the scene, smooth-edged where the machine can, and keeps the picture.
    void paint(const Scene& scene, const Look& look, Extent size);
    /// Whether drawing is done without a graphics card, so that moving pictures had better be hurried.
    [[nodiscard]] bool slow() const;
    /// What is in an area of the last canvas or, without panels, of the last painted scene: RGB, rows from
    /// the top; whole pixels.
    [[nodiscard]] std::vector<std::uint8_t> pixels(const Area& area, bool with_panels) const;
    /// A framebuffer of that size that holds the last painted scene, ready for panels to be drawn over it.
    unsigned canvas(Extent size);

  private:
    struct Graphics;
    std::unique_ptr<Graphics> graphics_;
};

}  // namespace evenspit::viewer
