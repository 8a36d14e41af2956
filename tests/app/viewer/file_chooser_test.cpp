// SPDX-License-Identifier: MIT
// The desktop's own dialogue for files: asked on a bus of the test's own, where a portal of the test's own
// answers.
#include "app/viewer/file_chooser.h"

#include <algorithm>
#include <cstdlib>
#include <future>
#include <gio/gio.h>
#include <string>
#include <thread>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/sample_load.h"
#include "app/viewer/stage.h"

namespace evenspit::viewer {
namespace {

using evenspit::test::TemporaryFolder;
using evenspit::test::write_sample_load;
using test::Stage;

/// What the portal was asked, and what it answers.
struct Portal {
    std::string answer_uri;  ///< "": it is called off; "wait": never
    std::string method{}, title{}, folder{}, name{};
    bool closed = false;
};

void called(GDBusConnection* bus, const char* sender, const char* /*path*/, const char* interface,
            const char* method, GVariant* parameters, GDBusMethodInvocation* invocation, gpointer data) {
    auto& portal = *static_cast<Portal*>(data);
    if (std::string(interface) == "org.freedesktop.portal.Request") {
        portal.closed = true;
        return g_dbus_method_invocation_return_value(invocation, nullptr);
    }
    const char *parent = nullptr, *title = nullptr, *text = nullptr;
    GVariant* options = nullptr;
    g_variant_get(parameters, "(&s&s@a{sv})", &parent, &title, &options);
    portal.method = method;
    portal.title = title;
    if (g_variant_lookup(options, "current_folder", "^&ay", &text) != FALSE) portal.folder = text;
    if (g_variant_lookup(options, "current_name", "&s", &text) != FALSE) portal.name = text;
    g_variant_unref(options);
    g_dbus_method_invocation_return_value(invocation, g_variant_new("(o)", "/asked/1"));
    if (portal.answer_uri == "wait") return;
    GVariantBuilder results;
    g_variant_builder_init(&results, G_VARIANT_TYPE("a{sv}"));
    const char* uris[] = {portal.answer_uri.c_str(), nullptr};
    g_variant_builder_add(&results, "{sv}", "uris", g_variant_new_strv(uris, 1));
    g_dbus_connection_emit_signal(bus, sender, "/asked/1", "org.freedesktop.portal.Request", "Response",
                                  g_variant_new("(ua{sv})", portal.answer_uri.empty() ? 1U : 0U, &results),
                                  nullptr);
}

GVariant* version_of(GDBusConnection* /*bus*/, const char* /*sender*/, const char* /*path*/,
                     const char* /*interface*/, const char* /*property*/, GError** /*error*/,
                     gpointer /*data*/) {
    return g_variant_new_uint32(3);
}

/// A bus with the portal on it, served by a thread.
class Desktop {
  public:
    explicit Desktop(Portal& portal) : bus_(g_test_dbus_new(G_TEST_DBUS_NONE)) {
        g_test_dbus_up(bus_);
        std::promise<void> ready;
        serving_ = std::thread([this, &portal, &ready] { serve(portal, ready); });
        ready.get_future().wait();
    }
    Desktop(const Desktop&) = delete;
    Desktop& operator=(const Desktop&) = delete;
    ~Desktop() {
        g_main_loop_quit(loop_);
        serving_.join();
        g_test_dbus_stop(bus_);
        g_object_unref(bus_);
        ::unsetenv("DBUS_SESSION_BUS_ADDRESS");
    }

  private:
    void serve(Portal& portal, std::promise<void>& ready) {
        constexpr const char* faces = R"(<node><interface name="org.freedesktop.portal.FileChooser">
            <method name="OpenFile"><arg type="s" direction="in"/><arg type="s" direction="in"/>
              <arg type="a{sv}" direction="in"/><arg type="o" direction="out"/></method>
            <method name="SaveFile"><arg type="s" direction="in"/><arg type="s" direction="in"/>
              <arg type="a{sv}" direction="in"/><arg type="o" direction="out"/></method>
            <property name="version" type="u" access="read"/></interface>
            <interface name="org.freedesktop.portal.Request"><method name="Close"/></interface></node>)";
        GMainContext* const context = g_main_context_new();
        g_main_context_push_thread_default(context);
        loop_ = g_main_loop_new(context, FALSE);
        const auto flags = static_cast<GDBusConnectionFlags>(G_DBUS_CONNECTION_FLAGS_AUTHENTICATION_CLIENT |
                                                             G_DBUS_CONNECTION_FLAGS_MESSAGE_BUS_CONNECTION);
        GDBusConnection* const bus = g_dbus_connection_new_for_address_sync(g_test_dbus_get_bus_address(bus_),
                                                                            flags, nullptr, nullptr, nullptr);
        GDBusNodeInfo* const info = g_dbus_node_info_new_for_xml(faces, nullptr);
        const GDBusInterfaceVTable table{called, version_of, nullptr, {}};
        g_dbus_connection_register_object(bus, "/org/freedesktop/portal/desktop", info->interfaces[0], &table,
                                          &portal, nullptr, nullptr);
        g_dbus_connection_register_object(bus, "/asked/1", info->interfaces[1], &table, &portal, nullptr,
                                          nullptr);
        GVariant* const named = g_dbus_connection_call_sync(
            bus, "org.freedesktop.DBus", "/org/freedesktop/DBus", "org.freedesktop.DBus", "RequestName",
            g_variant_new("(su)", "org.freedesktop.portal.Desktop", 0U), nullptr, G_DBUS_CALL_FLAGS_NONE, -1,
            nullptr, nullptr);
        g_variant_unref(named);
        ready.set_value();
        g_main_loop_run(loop_);
        g_dbus_connection_close_sync(bus, nullptr, nullptr);
        g_object_unref(bus);
        g_dbus_node_info_unref(info);
        g_main_loop_unref(loop_);
        g_main_context_pop_thread_default(context);
        g_main_context_unref(context);
    }

    GTestDBus* bus_;
    GMainLoop* loop_ = nullptr;
    std::thread serving_;
};

bool has_bus() {
    return std::system("command -v dbus-daemon >/dev/null 2>&1") == 0;
}

TEST(FileChooser, AsksTheDesktopAndTellsWhatWasChosen) {
    if (!has_bus()) GTEST_SKIP() << "dbus-daemon is not installed";
    Portal portal{"file:///home/a%20cook/sunday.toml"};
    const Desktop desktop(portal);
    const FileChooser choose = desktop_chooser();
    ASSERT_TRUE(choose);
    EXPECT_EQ(choose({.title = "Open", .folder = "/home/a cook"}, {}), "/home/a cook/sunday.toml");
    EXPECT_EQ(portal.method, "OpenFile");
    EXPECT_EQ(portal.title, "Open");
    EXPECT_EQ(portal.folder, "/home/a cook");
    EXPECT_EQ(choose({.saves = true, .title = "Save", .name = "goose.toml"}, {}), "/home/a cook/sunday.toml");
    EXPECT_EQ(portal.method, "SaveFile");
    EXPECT_EQ(portal.name, "goose.toml");
    portal.answer_uri = "";
    EXPECT_EQ(choose({.title = "Open"}, {}), std::nullopt) << "called off";
}

TEST(FileChooser, IsClosedWhenNobodyWaitsAnyMore) {
    if (!has_bus()) GTEST_SKIP() << "dbus-daemon is not installed";
    Portal portal{"wait"};
    const Desktop desktop(portal);
    const FileChooser choose = desktop_chooser();
    ASSERT_TRUE(choose);
    std::stop_source stop;
    std::thread later([&stop] { stop.request_stop(); });
    EXPECT_EQ(choose({.title = "Open"}, stop.get_token()), std::nullopt);
    later.join();
    EXPECT_TRUE(portal.closed);
}

TEST(FileChooser, WhereTheDesktopHasNoneThereIsNone) {
    ::setenv("DBUS_SESSION_BUS_ADDRESS", "unix:path=/no/such/bus", 1);
    EXPECT_FALSE(desktop_chooser());
    ::unsetenv("DBUS_SESSION_BUS_ADDRESS");
}

TEST(FileChooser, ItsChoiceIsOpenedAndSaved) {
    const TemporaryFolder folder;
    const std::filesystem::path file = write_sample_load(folder), saved = folder / "again.toml";
    FileQuestion asked;
    std::filesystem::path answer = file;
    HeadlessSystem system({1280, 720}, 1);
    Viewer viewer(system,
                  {.models = EVENSPIT_SOURCE_DIR "/models",
                   .storage = {},
                   .wake = {},
                   .find_chooser =
                       [&] {
                           return FileChooser([&](const FileQuestion& question, const std::stop_token&) {
                               asked = question;
                               return std::optional(answer);
                           });
                       },
                   .wait_for_work = true});
    Desk& desk = viewer.desk();
    const auto grant = [&](const Wish& wish) {
        desk.wish(wish);
        viewer.settle();
    };
    grant(ShowDialog{Dialog::open});
    const auto& spoken = viewer.ui().spoken();
    EXPECT_TRUE(std::any_of(spoken.begin(), spoken.end(),
                            [](const Spoken& s) { return s.text == "Use the desktop's dialogue"; }));
    grant(ChooseFile{folder / "", ""});
    EXPECT_FALSE(asked.saves);
    ASSERT_TRUE(desk.has_load());
    EXPECT_EQ(desk.session().file(), file);
    answer = saved;
    grant(ShowDialog{Dialog::save_as});
    grant(ChooseFile{folder / "", "load.toml"});
    EXPECT_TRUE(asked.saves);
    EXPECT_EQ(asked.name, "load.toml");
    EXPECT_TRUE(std::filesystem::exists(saved));
    EXPECT_EQ(desk.dialog(), Dialog::none);
}

}  // namespace
}  // namespace evenspit::viewer
