// SPDX-License-Identifier: MIT
#include "app/viewer/gl_objects.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <stdexcept>
#include <string>

#include "app/viewer/dress.h"

namespace evenspit::viewer {
namespace {

GLuint compiled(GLenum kind, const char* source) {
    const GLuint shader = glCreateShader(kind);
    glShaderSource(shader, 1, &source, nullptr);
    glCompileShader(shader);
    GLint fine = GL_FALSE;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &fine);
    if (fine == GL_TRUE) return shader;
    std::array<char, 1024> log{};
    glGetShaderInfoLog(shader, static_cast<GLsizei>(log.size()), nullptr, log.data());
    throw std::runtime_error(std::string("the graphics system refuses a shader: ") + log.data());
}

}  // namespace

Program::Program(const char* vertex, const char* fragment) : name_(glCreateProgram()) {
    const GLuint v = compiled(GL_VERTEX_SHADER, vertex), f = compiled(GL_FRAGMENT_SHADER, fragment);
    glAttachShader(name_, v);
    glAttachShader(name_, f);
    glLinkProgram(name_);
    glDeleteShader(v);
    glDeleteShader(f);
    GLint fine = GL_FALSE;
    glGetProgramiv(name_, GL_LINK_STATUS, &fine);
    if (fine != GL_TRUE) throw std::runtime_error("the graphics system cannot link a shader");
}

void Program::set(const char* uniform, const Mat4& m) const {
    glUniformMatrix4fv(at(uniform), 1, GL_FALSE, m.data());
}

void Program::set(const char* uniform, const Vec3& v) const {
    const Eigen::Vector3f f = v.cast<float>();
    glUniform3fv(at(uniform), 1, f.data());
}

void Target::fit(Extent size, int samples, bool depth) {
    if (size == size_ && framebuffer_ != 0) return;
    drop();
    size_ = size;
    glGenFramebuffers(1, &framebuffer_);
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_);
    colour_ = attach(GL_COLOR_ATTACHMENT0, GL_RGBA8, samples);
    if (depth) depth_ = attach(GL_DEPTH_STENCIL_ATTACHMENT, GL_DEPTH24_STENCIL8, samples);
    if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE)
        throw std::runtime_error("the graphics system has no room for the picture");
}

void Target::copy_to(const Target& other, const Area& part, bool depth) const {
    glBindFramebuffer(GL_READ_FRAMEBUFFER, framebuffer_);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, other.framebuffer_);
    // OpenGL begins at the bottom.
    const auto left = static_cast<GLint>(part.x), right = static_cast<GLint>(part.x + part.width),
               low = static_cast<GLint>(size_.height - part.y - part.height),
               high = static_cast<GLint>(size_.height - part.y);
    glBlitFramebuffer(left, low, right, high, left, low, right, high,
                      depth ? GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT : GL_COLOR_BUFFER_BIT, GL_NEAREST);
}

GLuint Target::attach(GLenum where, GLenum format, int samples) const {
    GLuint buffer = 0;
    glGenRenderbuffers(1, &buffer);
    glBindRenderbuffer(GL_RENDERBUFFER, buffer);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, format, size_.width, size_.height);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, where, GL_RENDERBUFFER, buffer);
    return buffer;
}

void Target::drop() {
    glDeleteFramebuffers(1, &framebuffer_);
    glDeleteRenderbuffers(1, &colour_);
    glDeleteRenderbuffers(1, &depth_);
    framebuffer_ = colour_ = depth_ = 0;
}

LoadedHeat::LoadedHeat(const std::shared_ptr<const HeatCells>& from) : cells(from) {
    // What lies far outside is never looked at; any number will do.
    std::vector<float> known = from->temperature_k;
    std::replace_if(
        known.begin(), known.end(), [](float kelvin) { return !std::isfinite(kelvin); }, 0.0F);
    glGenTextures(1, &texture);
    glBindTexture(GL_TEXTURE_3D, texture);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glTexImage3D(GL_TEXTURE_3D, 0, GL_R32F, static_cast<GLsizei>(from->count[0]),
                 static_cast<GLsizei>(from->count[1]), static_cast<GLsizei>(from->count[2]), 0, GL_RED,
                 GL_FLOAT, known.data());
    for (const GLenum way : {GL_TEXTURE_WRAP_S, GL_TEXTURE_WRAP_T, GL_TEXTURE_WRAP_R})
        glTexParameteri(GL_TEXTURE_3D, way, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_3D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_3D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
}

Loaded::Loaded(const SharedShape& from)
    : shape(from),
      count(static_cast<GLsizei>(from->triangles.size())),
      few(static_cast<GLsizei>(from->few.size())) {
    glGenVertexArrays(1, &layout);
    glGenBuffers(1, &corners);
    glGenBuffers(1, &triangles);
    glBindVertexArray(layout);
    glBindBuffer(GL_ARRAY_BUFFER, corners);
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(from->corners.size() * sizeof(ShapeMesh::Corner)),
                 from->corners.data(), GL_STATIC_DRAW);
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, triangles);
    // The few behind the many.
    const std::size_t many = from->triangles.size() * sizeof(std::uint32_t),
                      more = from->few.size() * sizeof(std::uint32_t);
    glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(many + more), nullptr, GL_STATIC_DRAW);
    glBufferSubData(GL_ELEMENT_ARRAY_BUFFER, 0, static_cast<GLsizeiptr>(many), from->triangles.data());
    glBufferSubData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLintptr>(many), static_cast<GLsizeiptr>(more),
                    from->few.data());
    constexpr GLsizei stride = sizeof(ShapeMesh::Corner);
    glEnableVertexAttribArray(0);
    glVertexAttribPointer(0, 3, GL_FLOAT, GL_FALSE, stride, nullptr);
    glEnableVertexAttribArray(1);
    const std::size_t normals = offsetof(ShapeMesh::Corner, normal);
    // OpenGL takes this offset as a pointer.
    glVertexAttribPointer(1, 3, GL_FLOAT, GL_FALSE, stride,
                          reinterpret_cast<const void*>(normals));  // NOLINT(performance-no-int-to-ptr)
    if (!from->tissues.empty()) {
        std::vector<std::array<std::uint8_t, 4>> colours;
        colours.reserve(from->tissues.size());
        for (const scene::Tissue tissue : from->tissues) colours.push_back(tint_of(tissue));
        glGenBuffers(1, &tints);
        glBindBuffer(GL_ARRAY_BUFFER, tints);
        glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(4 * colours.size()), colours.data(),
                     GL_STATIC_DRAW);
        glEnableVertexAttribArray(3);
        glVertexAttribPointer(3, 4, GL_UNSIGNED_BYTE, GL_TRUE, 0, nullptr);
    }
    glBindVertexArray(0);
}

Loaded::~Loaded() {
    glDeleteVertexArrays(1, &layout);
    glDeleteBuffers(1, &corners);
    glDeleteBuffers(1, &triangles);
    glDeleteBuffers(1, &tints);
}

void Loaded::draw(bool coarsely) const {
    glBindVertexArray(layout);
    if (!coarsely || few == 0) return glDrawElements(GL_TRIANGLES, count, GL_UNSIGNED_INT, nullptr);
    const std::size_t behind = static_cast<std::size_t>(count) * sizeof(std::uint32_t);
    // OpenGL takes this offset as a pointer.
    glDrawElements(GL_TRIANGLES, few, GL_UNSIGNED_INT,
                   reinterpret_cast<const void*>(behind));  // NOLINT(performance-no-int-to-ptr)
}

void Loaded::use_values(GLuint buffer) const {
    glBindVertexArray(layout);
    if (buffer == 0) return glDisableVertexAttribArray(2);
    glBindBuffer(GL_ARRAY_BUFFER, buffer);
    glEnableVertexAttribArray(2);
    glVertexAttribPointer(2, 1, GL_FLOAT, GL_FALSE, sizeof(float), nullptr);
}

LoadedValues::LoadedValues(const std::shared_ptr<const std::vector<float>>& from) : values(from) {
    glGenBuffers(1, &buffer);
    glBindBuffer(GL_ARRAY_BUFFER, buffer);
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(from->size() * sizeof(float)), from->data(),
                 GL_STATIC_DRAW);
}

}  // namespace evenspit::viewer
