// SPDX-License-Identifier: MIT
// The real window on a display of its own (Xvfb): events from the window system to the load.
#include "app/viewer/window.h"

#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <fcntl.h>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "app/sample_load.h"
#include "app/viewer/viewer.h"

namespace evenspit::viewer {
namespace {

using evenspit::test::TemporaryFolder;
using evenspit::test::write_sample_load;

/// A display that ends with the test.
class Display {
  public:
    Display() {
        int ends[2];
        if (::pipe(ends) != 0) return;
        server_ = ::fork();
        if (server_ == 0) {
            ::close(ends[0]);
            const int nowhere = ::open("/dev/null", O_WRONLY);
            ::dup2(nowhere, STDERR_FILENO);
            const std::string end = std::to_string(ends[1]);
            ::execlp("Xvfb", "Xvfb", "-displayfd", end.c_str(), "-screen", "0", "1400x900x24", "-nolisten",
                     "tcp", nullptr);
            ::_exit(127);
        }
        ::close(ends[1]);
        char number[16] = {};
        std::size_t length = 0;
        // It writes its number once it is ready, and nothing if it cannot be.
        for (ssize_t n = 0; length + 1 < sizeof number && (n = ::read(ends[0], number + length, 1)) == 1;
             ++length) {
            if (number[length] == '\n') break;
        }
        ::close(ends[0]);
        if (length > 0) name_.append(":").append(number, length);
    }
    Display(const Display&) = delete;
    Display& operator=(const Display&) = delete;
    ~Display() {
        if (server_ > 0) {
            ::kill(server_, SIGTERM);
            ::waitpid(server_, nullptr, 0);
        }
    }
    [[nodiscard]] const std::string& name() const { return name_; }

  private:
    pid_t server_ = -1;
    std::string name_;
};

TEST(Window, TakesRealEventsAndMovesTheLoad) {
    const Display display;
    if (display.name().empty()) GTEST_SKIP() << "Xvfb is not installed";
    ::setenv("DISPLAY", display.name().c_str(), 1);
    ::unsetenv("WAYLAND_DISPLAY");
    const TemporaryFolder folder;
    const auto file = write_sample_load(folder);
    {
        const std::unique_ptr<WindowSystem> window = open_window({1280, 720});
        EXPECT_EQ(window->picture_size(), (Extent{1280, 720}));
        Viewer viewer(*window,
                      {.models = {}, .storage = {}, .wake = [&] { window->wake(); }, .wait_for_work = true});
        viewer.desk().wish(OpenFile{file});
        viewer.settle();
        ASSERT_TRUE(viewer.desk().has_answer());
        // xdotool is the hand: it moves the pointer, clicks and types through the display.
        const auto hand = [&](const std::string& does) {
            const std::string command =
                fmt::format("DISPLAY={} xdotool {} >/dev/null 2>&1", display.name(), does);
            const int status = std::system(command.c_str());
            for (int i = 0; i < 4; ++i) viewer.settle();
            return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
        };
        const Vec3 body = viewer.desk().camera().shown_at({0.34, 0.0, 0.03}, viewer.layout().scene);
        const std::string place = fmt::format("mousemove {:.0f} {:.0f}", body.x(), body.y());
        if (hand(place) != 0) GTEST_SKIP() << "xdotool is not installed";
        hand("click 1");
        EXPECT_EQ(viewer.desk().selected(), (Thing{Thing::Kind::item, 0}));
        hand("key Right");
        EXPECT_NEAR(viewer.desk().session().assembly().items[0].seat.at_m, 0.341, 1e-12);
        hand("key ctrl+z");
        EXPECT_NEAR(viewer.desk().session().assembly().items[0].seat.at_m, 0.340, 1e-12);
        // On a German keyboard Z and Y have changed places: the letter on the key counts.
        const std::string german = fmt::format("DISPLAY={} setxkbmap de >/dev/null 2>&1", display.name());
        if (std::system(german.c_str()) == 0) {
            hand("key Right");
            EXPECT_NEAR(viewer.desk().session().assembly().items[0].seat.at_m, 0.341, 1e-12);
            hand("key ctrl+z");
            EXPECT_NEAR(viewer.desk().session().assembly().items[0].seat.at_m, 0.340, 1e-12) << "undone";
            hand("key ctrl+y");
            EXPECT_NEAR(viewer.desk().session().assembly().items[0].seat.at_m, 0.341, 1e-12) << "done again";
            hand("key ctrl+z");
        }
        const double distance = viewer.desk().camera().distance();
        hand("click 4");  // the wheel
        EXPECT_LT(viewer.desk().camera().distance(), distance);
    }
    ::unsetenv("DISPLAY");
}

TEST(Window, NeedsADisplay) {
    ::unsetenv("DISPLAY");
    ::unsetenv("WAYLAND_DISPLAY");
    EXPECT_THROW(static_cast<void>(open_window({800, 600})), NoDisplay);
}

}  // namespace
}  // namespace evenspit::viewer
