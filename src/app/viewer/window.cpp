// SPDX-License-Identifier: MIT
#include "app/viewer/window.h"

#include <algorithm>
#include <array>
#include <epoxy/gl.h>
#include <utility>
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

#include "app/viewer/keys.h"

namespace evenspit::viewer {
namespace {

Key key_of(int key) {
    if (key >= GLFW_KEY_A && key <= GLFW_KEY_Z)
        return static_cast<Key>(static_cast<int>(Key::a) + key - GLFW_KEY_A);
    if (key >= GLFW_KEY_0 && key <= GLFW_KEY_9)
        return static_cast<Key>(static_cast<int>(Key::num_0) + key - GLFW_KEY_0);
    if (key >= GLFW_KEY_KP_0 && key <= GLFW_KEY_KP_9)
        return static_cast<Key>(static_cast<int>(Key::num_0) + key - GLFW_KEY_KP_0);
    constexpr std::array<std::pair<int, Key>, 25> others = {{
        {GLFW_KEY_TAB, Key::tab},
        {GLFW_KEY_LEFT, Key::left},
        {GLFW_KEY_RIGHT, Key::right},
        {GLFW_KEY_UP, Key::up},
        {GLFW_KEY_DOWN, Key::down},
        {GLFW_KEY_PAGE_UP, Key::page_up},
        {GLFW_KEY_PAGE_DOWN, Key::page_down},
        {GLFW_KEY_HOME, Key::home},
        {GLFW_KEY_END, Key::end},
        {GLFW_KEY_INSERT, Key::insert},
        {GLFW_KEY_DELETE, Key::del},
        {GLFW_KEY_BACKSPACE, Key::backspace},
        {GLFW_KEY_SPACE, Key::space},
        {GLFW_KEY_ENTER, Key::enter},
        {GLFW_KEY_KP_ENTER, Key::enter},
        {GLFW_KEY_ESCAPE, Key::escape},
        {GLFW_KEY_EQUAL, Key::plus},
        {GLFW_KEY_KP_ADD, Key::plus},
        {GLFW_KEY_MINUS, Key::minus},
        {GLFW_KEY_KP_SUBTRACT, Key::minus},
        {GLFW_KEY_COMMA, Key::comma},
        {GLFW_KEY_PERIOD, Key::period},
        {GLFW_KEY_F1, Key::f1},
        {GLFW_KEY_F5, Key::f5},
        {GLFW_KEY_F6, Key::f6},
    }};
    const auto* const found =
        std::find_if(others.begin(), others.end(), [key](const auto& other) { return other.first == key; });
    return found == others.end() ? Key::unknown : found->second;
}

/// By the letter that is on the key; where the layout's letters are not Latin, by where the key is.
Key key_pressed(int key, int scancode) {
    const char* const name = glfwGetKeyName(key, scancode);
    const bool keypad = key >= GLFW_KEY_KP_0 && key <= GLFW_KEY_KP_EQUAL;
    const Key named = name != nullptr && !keypad ? key_of_name(name) : Key::unknown;
    return named != Key::unknown ? named : key_of(key);
}

Modifiers modifiers_of(int bits) {
    return {.control = (bits & (GLFW_MOD_CONTROL | GLFW_MOD_SUPER)) != 0,
            .shift = (bits & GLFW_MOD_SHIFT) != 0,
            .alt = (bits & GLFW_MOD_ALT) != 0};
}

class Window : public WindowSystem {
  public:
    explicit Window(Extent size) {
        if (glfwInit() != GLFW_TRUE) throw NoDisplay("there is no display to open a window on");
        glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
        glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
        glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
        glfwWindowHint(GLFW_SCALE_TO_MONITOR, GLFW_TRUE);
        window_ = glfwCreateWindow(size.width, size.height, "Evenspit", nullptr, nullptr);
        if (window_ == nullptr) {
            glfwTerminate();
            throw NoDisplay("the display has no OpenGL 3.3 to draw with");
        }
        limit_size();
        glfwMakeContextCurrent(window_);
        glfwSwapInterval(1);
        glfwSetWindowUserPointer(window_, this);
        listen();
    }
    Window(const Window&) = delete;
    Window& operator=(const Window&) = delete;
    ~Window() override {
        glfwDestroyWindow(window_);
        glfwTerminate();
    }

    std::vector<Event> wait(double seconds) override {
        if (seconds < 0) {
            glfwWaitEvents();
        } else if (seconds > 0) {
            glfwWaitEventsTimeout(seconds);
        } else {
            glfwPollEvents();
        }
        return std::exchange(events_, {});
    }
    void wake() override { glfwPostEmptyEvent(); }

    [[nodiscard]] Extent picture_size() const override {
        Extent size;
        glfwGetFramebufferSize(window_, &size.width, &size.height);
        return size;
    }
    [[nodiscard]] double scale() const override {
        float x = 1, y = 1;
        glfwGetWindowContentScale(window_, &x, &y);
        return std::max(1.0, static_cast<double>(std::max(x, y)));
    }
    [[nodiscard]] Extent window_size() const override {
        Extent size;
        glfwGetWindowSize(window_, &size.width, &size.height);
        const double dense = scale();
        return {static_cast<int>(size.width / dense), static_cast<int>(size.height / dense)};
    }

    void present(unsigned framebuffer) override {
        const Extent size = picture_size();
        glBindFramebuffer(GL_READ_FRAMEBUFFER, framebuffer);
        glBindFramebuffer(GL_DRAW_FRAMEBUFFER, 0);
        glBlitFramebuffer(0, 0, size.width, size.height, 0, 0, size.width, size.height, GL_COLOR_BUFFER_BIT,
                          GL_NEAREST);
        glfwSwapBuffers(window_);
    }

    void set_title(const std::string& title) override { glfwSetWindowTitle(window_, title.c_str()); }
    [[nodiscard]] std::string clipboard() override {
        const char* text = glfwGetClipboardString(window_);
        return text != nullptr ? text : "";
    }
    void set_clipboard(const std::string& text) override { glfwSetClipboardString(window_, text.c_str()); }
    [[nodiscard]] double now() const override { return glfwGetTime(); }

  private:
    static Window& of(GLFWwindow* window) { return *static_cast<Window*>(glfwGetWindowUserPointer(window)); }
    void tell(Event event) { events_.push_back(std::move(event)); }

    void limit_size() {
        const double dense = scale();
        const Extent least = least_size(window_size());
        glfwSetWindowSizeLimits(window_, static_cast<int>(least.width * dense),
                                static_cast<int>(least.height * dense), GLFW_DONT_CARE, GLFW_DONT_CARE);
    }

    // Mouse positions come in window units, which need not be pixels.
    [[nodiscard]] double pixels_per_unit() const {
        int width = 1, height = 1;
        glfwGetWindowSize(window_, &width, &height);
        return static_cast<double>(picture_size().width) / std::max(1, width);
    }

    void listen() {
        glfwSetCursorPosCallback(window_, [](GLFWwindow* w, double x, double y) {
            const double dense = of(w).pixels_per_unit();
            of(w).tell(MouseMoved{x * dense, y * dense});
        });
        glfwSetCursorEnterCallback(window_, [](GLFWwindow* w, int inside) {
            if (inside == GLFW_FALSE) of(w).tell(PointerLeft{});
        });
        glfwSetMouseButtonCallback(window_, [](GLFWwindow* w, int button, int action, int bits) {
            if (button > GLFW_MOUSE_BUTTON_MIDDLE) return;
            constexpr std::array<MouseButton, 3> buttons = {MouseButton::left, MouseButton::right,
                                                            MouseButton::middle};
            of(w).tell(MousePressed{buttons[static_cast<std::size_t>(button)], action == GLFW_PRESS,
                                    modifiers_of(bits)});
        });
        glfwSetScrollCallback(window_, [](GLFWwindow* w, double right, double up) {
            of(w).tell(MouseWheel{right, up});
        });
        glfwSetKeyCallback(window_, [](GLFWwindow* w, int key, int scancode, int action, int bits) {
            of(w).tell(KeyPressed{key_pressed(key, scancode), action != GLFW_RELEASE, modifiers_of(bits)});
        });
        glfwSetCharCallback(window_,
                            [](GLFWwindow* w, unsigned character) { of(w).tell(TextTyped{character}); });
        glfwSetDropCallback(window_, [](GLFWwindow* w, int count, const char** names) {
            FilesDropped dropped;
            for (int i = 0; i < count; ++i) dropped.files.emplace_back(names[i]);
            of(w).tell(std::move(dropped));
        });
        glfwSetWindowCloseCallback(window_, [](GLFWwindow* w) {
            glfwSetWindowShouldClose(w, GLFW_FALSE);
            of(w).tell(CloseAsked{});
        });
        glfwSetFramebufferSizeCallback(window_, [](GLFWwindow* w, int, int) {
            of(w).limit_size();
            of(w).tell(Exposed{});
        });
        glfwSetWindowRefreshCallback(window_, [](GLFWwindow* w) { of(w).tell(Exposed{}); });
        glfwSetWindowContentScaleCallback(window_,
                                          [](GLFWwindow* w, float, float) { of(w).tell(Exposed{}); });
    }

    GLFWwindow* window_ = nullptr;
    std::vector<Event> events_;
};

}  // namespace

std::unique_ptr<WindowSystem> open_window(Extent size) {
    return std::make_unique<Window>(size);
}

}  // namespace evenspit::viewer
