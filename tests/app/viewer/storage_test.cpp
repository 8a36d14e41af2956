// SPDX-License-Identifier: MIT
#include "app/viewer/storage.h"

#include <gtest/gtest.h>

#include "support/temporary_folder.h"

namespace evenspit::viewer {
namespace {

using test::TemporaryFolder;

TEST(Settings, ReadBack) {
    Settings settings;
    settings.width = 1600;
    settings.units = UnitSystem::us;
    settings.scale = 1.5;
    settings.welcomed = true;
    settings.remember("/loads/a \"goose\".toml");
    settings.remember("/loads/tab\t.toml");
    const Settings again = settings_from(settings_text(settings));
    EXPECT_EQ(again.width, 1600);
    EXPECT_EQ(again.height, settings.height);
    EXPECT_EQ(again.units, UnitSystem::us);
    EXPECT_EQ(again.scale, 1.5);
    EXPECT_TRUE(again.welcomed);
    EXPECT_FALSE(again.through_skin);
    EXPECT_EQ(again.recent, settings.recent);
}

TEST(Settings, DamageIsForgotten) {
    EXPECT_EQ(settings_from("width = ").width, Settings().width);
    EXPECT_EQ(settings_from("width = -5\nscale = 99\nrecent = 3").width, Settings().width);
    EXPECT_EQ(settings_from("scale = 99").scale, 0);
}

TEST(Settings, RememberEightAndTheLastFirst) {
    Settings settings;
    for (int i = 0; i < 12; ++i) settings.remember(std::to_string(i));
    settings.remember("7");
    ASSERT_EQ(settings.recent.size(), 8U);
    EXPECT_EQ(settings.recent[0], "7");
    EXPECT_EQ(settings.recent[1], "11");
}

TEST(Storage, KeepsSettingsAndWhatIsNotSaved) {
    const TemporaryFolder folder;
    const Storage storage(folder / "config", folder / "state");
    EXPECT_FALSE(storage.unsaved("/x/load.toml"));
    storage.keep_unsaved("/x/load.toml", "title = 1");
    storage.keep_unsaved("", "new");
    EXPECT_EQ(storage.unsaved("/x/y/../load.toml"), "title = 1") << "however the file is named";
    EXPECT_EQ(storage.unsaved(""), "new");
    EXPECT_FALSE(storage.unsaved("/x/other.toml"));
    storage.forget_unsaved("/x/load.toml");
    EXPECT_FALSE(storage.unsaved("/x/load.toml"));
    Settings settings;
    settings.width = 1999;
    storage.keep(settings);
    EXPECT_EQ(storage.settings().width, 1999);
}

TEST(Storage, WithoutAHomeForgets) {
    const Storage storage;
    storage.keep(Settings{});
    storage.keep_unsaved("/x", "y");
    EXPECT_FALSE(storage.unsaved("/x"));
    const TemporaryFolder folder;
    folder.write("file", "not a folder");
    const Storage barred(folder / "file", folder / "file");
    barred.keep_unsaved("/x", "y");
    EXPECT_FALSE(barred.unsaved("/x"));
}

TEST(Storage, FollowsTheDesktopsFolders) {
    const TemporaryFolder folder;
    const auto variable = [&](const std::string& name) -> std::optional<std::string> {
        if (name == "XDG_STATE_HOME") return (folder / "state").string();
        if (name == "HOME") return (folder / "home").string();
        return std::nullopt;
    };
    const Storage storage = Storage::of_home(variable);
    storage.keep_unsaved("", "text");
    storage.keep(Settings{});
    EXPECT_TRUE(std::filesystem::exists(folder / "state" / "evenspit"));
    EXPECT_TRUE(std::filesystem::exists(folder / "home" / ".config" / "evenspit" / "viewer.toml"));
}

}  // namespace
}  // namespace evenspit::viewer
