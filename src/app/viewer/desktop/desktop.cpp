// SPDX-License-Identifier: MIT
// The dialogue for files of the desktop portal, a D-Bus interface of freedesktop.org:
// org.freedesktop.portal.FileChooser, https://flatpak.github.io/xdg-desktop-portal/
#include <cstring>
#include <gio/gio.h>
#include <memory>
#include <string>

#include "app/viewer/desktop/desktop_api.h"

namespace evenspit::viewer::desktop {
namespace {

constexpr const char* portal_name = "org.freedesktop.portal.Desktop";
constexpr const char* portal_path = "/org/freedesktop/portal/desktop";
constexpr const char* chooser_name = "org.freedesktop.portal.FileChooser";
constexpr const char* request_name = "org.freedesktop.portal.Request";
constexpr int patience_ms = 3000;        // for a portal that has to be started
constexpr unsigned look_every_ms = 100;  // whether the dialogue shall stay
constexpr unsigned of_names = 0;         // how the portal counts filters by names

template <auto Free>
struct Freed {
    template <typename T>
    void operator()(T* held) const {
        Free(held);
    }
};
template <typename T, auto Free>
using Held = std::unique_ptr<T, Freed<Free>>;

/// A connection that nobody else uses.
class Bus {
  public:
    Bus() {
        const Held<char, g_free> address(
            g_dbus_address_get_for_bus_sync(G_BUS_TYPE_SESSION, nullptr, nullptr));
        if (!address) return;
        const auto flags = static_cast<GDBusConnectionFlags>(G_DBUS_CONNECTION_FLAGS_AUTHENTICATION_CLIENT |
                                                             G_DBUS_CONNECTION_FLAGS_MESSAGE_BUS_CONNECTION);
        bus_.reset(g_dbus_connection_new_for_address_sync(address.get(), flags, nullptr, nullptr, nullptr));
    }
    [[nodiscard]] GDBusConnection* get() const { return bus_.get(); }

    /// An answer, or nothing.
    [[nodiscard]] Held<GVariant, g_variant_unref> call(const char* path, const char* interface,
                                                       const char* method, GVariant* parameters) const {
        return Held<GVariant, g_variant_unref>(
            g_dbus_connection_call_sync(bus_.get(), portal_name, path, interface, method, parameters, nullptr,
                                        G_DBUS_CALL_FLAGS_NONE, patience_ms, nullptr, nullptr));
    }

  private:
    Held<GDBusConnection, g_object_unref> bus_;
};

/// A dialogue that is open.
struct Open {
    const Bus& bus;
    const Asked& asked;
    std::string request;  // its object on the bus
    GMainLoop* loop;
    Outcome outcome = Outcome::called_off;
    std::string file{};
};

void answered(GDBusConnection* /*bus*/, const char* /*sender*/, const char* path, const char* /*interface*/,
              const char* /*signal*/, GVariant* parameters, gpointer data) {
    Open& open = *static_cast<Open*>(data);
    if (open.request != path) return;
    guint32 response = 0;
    GVariant* results = nullptr;
    g_variant_get(parameters, "(u@a{sv})", &response, &results);
    const Held<GVariant, g_variant_unref> held(results);
    const char** uris = nullptr;
    if (response == 0 && g_variant_lookup(results, "uris", "^a&s", &uris) != FALSE) {
        const Held<const char*, g_free> list(uris);
        const Held<char, g_free> name(uris[0] != nullptr ? g_filename_from_uri(uris[0], nullptr, nullptr)
                                                         : nullptr);
        if (name) {
            open.file = name.get();
            open.outcome = Outcome::chosen;
        }
    }
    g_main_loop_quit(open.loop);
}

gboolean look_whether_to_stay(gpointer data) {
    Open& open = *static_cast<Open*>(data);
    if (open.asked.go_on(open.asked.who)) return G_SOURCE_CONTINUE;
    static_cast<void>(open.bus.call(open.request.c_str(), request_name, "Close", nullptr));
    g_main_loop_quit(open.loop);
    return G_SOURCE_REMOVE;
}

GVariant* parameters_of(const Question& question, const std::string& token) {
    GVariantBuilder options;
    g_variant_builder_init(&options, G_VARIANT_TYPE("a{sv}"));
    g_variant_builder_add(&options, "{sv}", "handle_token", g_variant_new_string(token.c_str()));
    if (*question.folder != '\0')
        g_variant_builder_add(&options, "{sv}", "current_folder", g_variant_new_bytestring(question.folder));
    if (*question.name != '\0')
        g_variant_builder_add(&options, "{sv}", "current_name", g_variant_new_string(question.name));
    if (*question.kind != '\0') {
        GVariantBuilder patterns, filters;
        g_variant_builder_init(&patterns, G_VARIANT_TYPE("a(us)"));
        for (std::size_t i = 0; i < question.pattern_count; ++i)
            g_variant_builder_add(&patterns, "(us)", of_names, question.patterns[i]);
        g_variant_builder_init(&filters, G_VARIANT_TYPE("a(sa(us))"));
        g_variant_builder_add(&filters, "(sa(us))", question.kind, &patterns);
        g_variant_builder_add(&options, "{sv}", "filters", g_variant_builder_end(&filters));
    }
    return g_variant_new("(ssa{sv})", "", question.title, &options);
}

/// Where the portal puts the object of a request, by who asks and what it calls it.
std::string request_path(GDBusConnection* bus, const std::string& token) {
    std::string sender = g_dbus_connection_get_unique_name(bus) + 1;  // after the colon
    for (char& c : sender) {
        if (c == '.') c = '_';
    }
    return std::string(portal_path) + "/request/" + sender + "/" + token;
}

bool has_dialogue() {
    const Bus bus;
    if (bus.get() == nullptr) return false;
    return bus.call(portal_path, "org.freedesktop.DBus.Properties", "Get",
                    g_variant_new("(ss)", chooser_name, "version")) != nullptr;
}

Outcome ask(const Bus& bus, const Question& question, const Asked& asked, GMainLoop* loop,
            std::string& file) {
    const std::string token = "evenspit";
    Open open{bus, asked, request_path(bus.get(), token), loop};
    const unsigned listening =
        g_dbus_connection_signal_subscribe(bus.get(), portal_name, request_name, "Response", nullptr, nullptr,
                                           G_DBUS_SIGNAL_FLAGS_NONE, answered, &open, nullptr);
    const auto reply = bus.call(portal_path, chooser_name, question.saves ? "SaveFile" : "OpenFile",
                                parameters_of(question, token));
    if (reply) {
        const char* path = nullptr;
        g_variant_get(reply.get(), "(&o)", &path);
        open.request = path;
        const Held<GSource, g_source_unref> looking(g_timeout_source_new(look_every_ms));
        g_source_set_callback(looking.get(), look_whether_to_stay, &open, nullptr);
        g_source_attach(looking.get(), g_main_loop_get_context(loop));
        g_main_loop_run(loop);
        g_source_destroy(looking.get());
    }
    g_dbus_connection_signal_unsubscribe(bus.get(), listening);
    file = open.file;
    return reply ? open.outcome : Outcome::none;
}

Outcome choose_file(const Question* question, const Asked* asked, char* chosen, std::size_t size) {
    const Held<GMainContext, g_main_context_unref> context(g_main_context_new());
    g_main_context_push_thread_default(context.get());
    Outcome outcome = Outcome::none;
    {
        const Bus bus;
        const Held<GMainLoop, g_main_loop_unref> loop(g_main_loop_new(context.get(), FALSE));
        std::string file;
        if (bus.get() != nullptr) outcome = ask(bus, *question, *asked, loop.get(), file);
        if (outcome == Outcome::chosen && file.size() < size) {
            std::memcpy(chosen, file.c_str(), file.size() + 1);
        } else if (outcome == Outcome::chosen) {
            outcome = Outcome::called_off;
        }
    }
    g_main_context_pop_thread_default(context.get());
    return outcome;
}

constexpr Functions functions{api_version, has_dialogue, choose_file};

}  // namespace
}  // namespace evenspit::viewer::desktop

extern "C" __attribute__((visibility("default"))) const evenspit::viewer::desktop::Functions*
evenspit_desktop() {
    return &evenspit::viewer::desktop::functions;
}
