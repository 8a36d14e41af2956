// SPDX-License-Identifier: MIT
#include "files/kept_files.h"

#include <atomic>
#include <chrono>
#include <fstream>
#include <sys/stat.h>
#include <thread>

#include <gtest/gtest.h>

#include "support/temporary_folder.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;
using test::content_of;
using test::TemporaryFolder;

fs::path only_file(const fs::path& folder) {
    return fs::directory_iterator(folder)->path();
}

void put(const fs::path& file, const std::string& bytes) {
    std::ofstream(file, std::ios::binary) << bytes;
}

TEST(KeptFiles, FindsWhatWasKeptUnderItsKey) {
    const TemporaryFolder folder;
    const KeptFiles kept(folder / "a");
    const std::string bytes("\0one\n\xff", 6);
    EXPECT_FALSE(kept.find("key"));
    kept.keep("key", bytes);
    kept.keep("other", "");
    EXPECT_EQ(kept.find("key"), bytes);
    EXPECT_EQ(kept.find("other"), "");
    EXPECT_FALSE(kept.find("ke"));
    EXPECT_FALSE(kept.find(""));
    kept.keep("key", "two");
    EXPECT_EQ(KeptFiles(folder / "a").find("key"), "two");
    EXPECT_EQ(fs::status(folder / "a").permissions(), fs::perms::owner_all);
    EXPECT_EQ(std::distance(fs::directory_iterator(folder / "a"), {}), 2);  // and no draft
}

TEST(KeptFiles, AChangedBitIsNoticedWhereverItIs) {
    const TemporaryFolder folder;
    const KeptFiles kept(folder / "a");
    kept.keep("key", "some bytes of no meaning");
    const fs::path file = only_file(folder / "a");
    const std::string good = content_of(file);
    for (std::size_t i = 0; i < good.size(); ++i) {
        std::string bad = good;
        bad[i] = static_cast<char>(static_cast<unsigned char>(bad[i]) ^ (1U << i % 8));
        put(file, bad);
        ASSERT_FALSE(kept.find("key")) << i;
    }
    put(file, good);
    EXPECT_TRUE(kept.find("key"));
}

TEST(KeptFiles, TornAndForeignFilesAreAsNone) {
    const TemporaryFolder folder;
    const KeptFiles kept(folder / "a");
    kept.keep("key", "some bytes of no meaning");
    const fs::path file = only_file(folder / "a");
    const std::string good = content_of(file);
    for (std::size_t size = 0; size < good.size(); size += 3) {
        put(file, good.substr(0, size));
        ASSERT_FALSE(kept.find("key")) << size;
        put(file, good.substr(0, size) + std::string(good.size() - size, '\0'));  // as after a crash
        ASSERT_FALSE(kept.find("key")) << size;
    }
    for (const std::string& bytes :
         {good + '\0', good + good, std::string("text\n"), std::string(300, 'e')}) {
        put(file, bytes);
        EXPECT_FALSE(kept.find("key"));
    }
    // What was kept under another key, in this one's place.
    kept.keep("kez", "other bytes");
    for (const auto& entry : fs::directory_iterator(folder / "a")) {
        if (entry.path() != file) fs::copy_file(entry.path(), file, fs::copy_options::overwrite_existing);
    }
    EXPECT_FALSE(kept.find("key"));
    EXPECT_EQ(kept.find("kez"), "other bytes");
    // A pipe that nobody writes to, and a folder.
    fs::remove(file);
    ASSERT_EQ(::mkfifo(file.c_str(), 0600), 0);
    EXPECT_FALSE(kept.find("key"));
    fs::remove(file);
    fs::create_directory(file);
    EXPECT_FALSE(kept.find("key"));
    kept.keep("key", "never");
    EXPECT_FALSE(kept.find("key"));
}

TEST(KeptFiles, WhereNothingCanBeWrittenNothingIsKept) {
    const TemporaryFolder folder;
    folder.write("file", "");
    for (const fs::path& place :
         {folder / "file", folder / "file" / "a", fs::path("/proc/none/a"), fs::path()}) {
        const KeptFiles kept(place);
        kept.keep("key", "bytes");
        EXPECT_FALSE(kept.find("key")) << place;
    }
    EXPECT_EQ(folder.entries(), 1U);
}

TEST(KeptFiles, TheOldestGo) {
    const TemporaryFolder folder;
    const KeptFiles kept(folder / "a", 5000);
    const auto now = fs::file_time_type::clock::now();
    std::vector<fs::path> files;
    for (int i = 0; i < 6; ++i) {
        kept.keep(std::to_string(i), std::string(900, 'x'));
        for (const auto& entry : fs::directory_iterator(folder / "a")) {
            if (std::find(files.begin(), files.end(), entry.path()) != files.end()) continue;
            files.push_back(entry.path());
            // Written in this order, an hour after each other.
            fs::last_write_time(entry.path(), now - std::chrono::hours(10 - i));
        }
    }
    for (int i = 0; i < 6; ++i) EXPECT_EQ(kept.find(std::to_string(i)).has_value(), i > 0) << i;
    // One thing that takes most of the room does not push all others out; it is not kept.
    kept.keep("large", std::string(4000, 'x'));
    EXPECT_FALSE(kept.find("large"));
    EXPECT_TRUE(kept.find("5"));
    // What a killed run left goes, once nobody can be at it; what is not of this kind stays.
    put(folder / "a" / ".1-0.part", "");
    put(folder / "a" / ".2-0.part", "");
    put(folder / "a" / "note", std::string(9000, 'x'));
    fs::last_write_time(folder / "a" / ".1-0.part", now - std::chrono::hours(2));
    kept.keep("5", "x");
    EXPECT_FALSE(fs::exists(folder / "a" / ".1-0.part"));
    EXPECT_TRUE(fs::exists(folder / "a" / ".2-0.part"));
    EXPECT_TRUE(fs::exists(folder / "a" / "note"));
}

// Several write and read at a time: what is found is always whole.
TEST(KeptFiles, WritersDoNotDisturbEachOther) {
    const TemporaryFolder folder;
    std::atomic<int> found{0}, torn{0};
    const auto work = [&](char letter) {
        const KeptFiles kept(folder / "a");
        for (int i = 0; i < 50; ++i) {
            kept.keep("key", std::string(static_cast<std::size_t>(10'000 + i), letter));
            const auto bytes = kept.find("key");
            if (!bytes) continue;
            ++found;
            torn += bytes->find_first_not_of(bytes->front()) != std::string::npos ? 1 : 0;
        }
    };
    std::thread other(work, 'a'), third(work, 'b');
    work('c');
    other.join();
    third.join();
    EXPECT_EQ(found, 150);
    EXPECT_EQ(torn, 0);
    EXPECT_EQ(std::distance(fs::directory_iterator(folder / "a"), {}), 1);
}

}  // namespace
}  // namespace evenspit
