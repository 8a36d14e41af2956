// SPDX-License-Identifier: MIT
#include "app/viewer/headless.h"

#include <algorithm>
#include <array>
#include <epoxy/egl.h>
#include <epoxy/gl.h>
#include <stdexcept>
#include <utility>

namespace evenspit::viewer {

struct HeadlessSystem::Context {
    EGLDisplay display = EGL_NO_DISPLAY;
    EGLContext context = EGL_NO_CONTEXT;

    Context() {
        if (!epoxy_has_egl()) throw std::runtime_error("cannot draw: EGL (libEGL.so.1) is not installed");
        if (epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_MESA_platform_surfaceless")) {
            display = eglGetPlatformDisplayEXT(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
        }
        if (display == EGL_NO_DISPLAY || !eglInitialize(display, nullptr, nullptr))
            throw std::runtime_error("cannot draw: EGL has no platform without a display here");
        if (!eglBindAPI(EGL_OPENGL_API)) throw std::runtime_error("cannot draw: EGL has no OpenGL here");
        constexpr std::array<EGLint, 5> wanted = {EGL_SURFACE_TYPE, EGL_PBUFFER_BIT, EGL_RENDERABLE_TYPE,
                                                  EGL_OPENGL_BIT, EGL_NONE};
        EGLConfig config = nullptr;
        EGLint count = 0;
        if (!eglChooseConfig(display, wanted.data(), &config, 1, &count) || count == 0) config = nullptr;
        constexpr std::array<EGLint, 7> version = {EGL_CONTEXT_MAJOR_VERSION,
                                                   3,
                                                   EGL_CONTEXT_MINOR_VERSION,
                                                   3,
                                                   EGL_CONTEXT_OPENGL_PROFILE_MASK,
                                                   EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT,
                                                   EGL_NONE};
        context = eglCreateContext(display, config, EGL_NO_CONTEXT, version.data());
        if (context == EGL_NO_CONTEXT || !eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, context))
            throw std::runtime_error("cannot draw: there is no OpenGL 3.3 here");
    }
    Context(const Context&) = delete;
    Context& operator=(const Context&) = delete;
    ~Context() {
        eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
        if (context != EGL_NO_CONTEXT) eglDestroyContext(display, context);
        // The display is shared by all who ask for it; it stays.
    }
};

HeadlessSystem::HeadlessSystem(Extent size, double scale)
    : context_(std::make_unique<Context>()), size_(size), scale_(scale) {}

HeadlessSystem::~HeadlessSystem() = default;

void HeadlessSystem::resize(Extent size, double scale) {
    size_ = size;
    scale_ = scale;
    give(Exposed{});
}

std::vector<Event> HeadlessSystem::wait(double seconds) {
    // Nobody else acts here: to wait is to let the time pass.
    if (events_.empty() && seconds > 0) now_ += seconds;
    return std::exchange(events_, {});
}

void HeadlessSystem::present(unsigned framebuffer) {
    framebuffer_ = framebuffer;
    ++shown_;
}

std::vector<std::uint8_t> HeadlessSystem::picture() const {
    const auto row = static_cast<std::size_t>(size_.width) * 3;
    std::vector<std::uint8_t> pixels(row * static_cast<std::size_t>(size_.height));
    glBindFramebuffer(GL_READ_FRAMEBUFFER, framebuffer_);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, size_.width, size_.height, GL_RGB, GL_UNSIGNED_BYTE, pixels.data());
    // OpenGL begins at the bottom.
    for (std::size_t top = 0, bottom = static_cast<std::size_t>(size_.height); top + 1 < bottom; ++top) {
        --bottom;
        std::swap_ranges(pixels.begin() + static_cast<std::ptrdiff_t>(top * row),
                         pixels.begin() + static_cast<std::ptrdiff_t>((top + 1) * row),
                         pixels.begin() + static_cast<std::ptrdiff_t>(bottom * row));
    }
    return pixels;
}

}  // namespace evenspit::viewer
