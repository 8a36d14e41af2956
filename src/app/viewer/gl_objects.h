// SPDX-License-Identifier: MIT
// Things of the graphics system that are let go with their owners. Inside of Painter. Not for others.
#pragma once

#include <epoxy/gl.h>
#include <memory>
#include <vector>

#include "app/viewer/sighting.h"
#include "app/viewer/window_system.h"

namespace evenspit::viewer {

using Mat4 = Eigen::Matrix4f;

/// A shader program; its uniforms go by name.
class Program {
  public:
    /// \throws std::runtime_error if the graphics system refuses it
    Program(const char* vertex, const char* fragment);
    Program(const Program&) = delete;
    Program& operator=(const Program&) = delete;
    ~Program() { glDeleteProgram(name_); }

    void use() const { glUseProgram(name_); }
    void set(const char* uniform, const Mat4& m) const;
    void set(const char* uniform, const Vec3& v) const;
    void set(const char* uniform, float x, float y) const { glUniform2f(at(uniform), x, y); }
    void set(const char* uniform, const Vec3& v, double w) const {
        glUniform4f(at(uniform), static_cast<float>(v.x()), static_cast<float>(v.y()),
                    static_cast<float>(v.z()), static_cast<float>(w));
    }
    void set(const char* uniform, const std::vector<float>& list) const {
        glUniform1fv(at(uniform), static_cast<GLsizei>(list.size()), list.data());
    }
    /// Four figures each.
    void set_fours(const char* uniform, const std::vector<float>& list) const {
        glUniform4fv(at(uniform), static_cast<GLsizei>(list.size() / 4), list.data());
    }
    void set(const char* uniform, float v) const { glUniform1f(at(uniform), v); }
    void set(const char* uniform, int v) const { glUniform1i(at(uniform), v); }

  private:
    [[nodiscard]] GLint at(const char* uniform) const { return glGetUniformLocation(name_, uniform); }
    GLuint name_;
};

/// A framebuffer with colour and, if wanted, depth and stencil.
class Target {
  public:
    Target() = default;
    Target(const Target&) = delete;
    Target& operator=(const Target&) = delete;
    ~Target() { drop(); }

    /// Makes it so large.
    ///
    /// \param samples of each pixel; 0: no smoothing
    /// \throws std::runtime_error if there is no room
    void fit(Extent size, int samples, bool depth);
    [[nodiscard]] GLuint framebuffer() const { return framebuffer_; }
    [[nodiscard]] Extent size() const { return size_; }
    /// Copies a part to the same place of another of that size.
    ///
    /// \param part pixels from the upper left
    /// \param depth too, where both have one and as many samples
    void copy_to(const Target& other, const Area& part, bool depth = false) const;

  private:
    [[nodiscard]] GLuint attach(GLenum where, GLenum format, int samples) const;
    void drop();

    Extent size_;
    GLuint framebuffer_ = 0, colour_ = 0, depth_ = 0;
};

/// Figures at a shape's corners in the graphics system's memory.
struct LoadedValues {
    std::weak_ptr<const std::vector<float>> values;
    GLuint buffer = 0;

    explicit LoadedValues(const std::shared_ptr<const std::vector<float>>& from);
    LoadedValues(const LoadedValues&) = delete;
    LoadedValues& operator=(const LoadedValues&) = delete;
    ~LoadedValues() { glDeleteBuffers(1, &buffer); }
};

/// Temperatures in the graphics system's memory, a texture of three dimensions.
struct LoadedHeat {
    std::weak_ptr<const HeatCells> cells;
    GLuint texture = 0;

    explicit LoadedHeat(const std::shared_ptr<const HeatCells>& from);
    LoadedHeat(const LoadedHeat&) = delete;
    LoadedHeat& operator=(const LoadedHeat&) = delete;
    ~LoadedHeat() { glDeleteTextures(1, &texture); }
};

/// A shape in the graphics system's memory: places at location 0, normals at location 1.
struct Loaded {
    std::weak_ptr<const ShapeMesh> shape;
    GLuint layout = 0, corners = 0, triangles = 0, tints = 0;  // tints: location 3, where it has tissues
    GLsizei count = 0, few = 0;

    explicit Loaded(const SharedShape& from);
    Loaded(const Loaded&) = delete;
    Loaded& operator=(const Loaded&) = delete;
    ~Loaded();
    /// \param coarsely with few triangles, if there are such
    void draw(bool coarsely = false) const;
    /// Takes the figures for location 2 from there; 0: from nowhere.
    void use_values(GLuint buffer) const;
};

}  // namespace evenspit::viewer
