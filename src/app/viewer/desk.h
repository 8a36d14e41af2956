// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/viewer/answers.h"
#include "app/viewer/camera.h"
#include "app/viewer/carding.h"
#include "app/viewer/cloud.h"
#include "app/viewer/cooking.h"
#include "app/viewer/file_chooser.h"
#include "app/viewer/load_document.h"
#include "app/viewer/planning.h"
#include "app/viewer/section.h"
#include "app/viewer/session.h"
#include "app/viewer/sighting.h"
#include "app/viewer/storage.h"
#include "app/viewer/tape.h"
#include "app/viewer/trimming.h"
#include "app/viewer/turn_play.h"
#include "app/viewer/weighing.h"
#include "app/viewer/wishes.h"

namespace evenspit::viewer {

/// Something to tell in passing.
struct Notice {
    enum class Kind { word, refusal, trouble };
    Kind kind = Kind::word;
    std::string text;
    double until_s = 0;
};

/// Everything that is on the table: the load, its answers, how it is looked at, and what is being asked.
/// Knows no window and no drawing; time comes in from outside.
class Desk {
  public:
    struct Surround {
        std::filesystem::path models;
        Storage storage;
        /// Called from other threads when something is there to see; may be empty.
        std::function<void()> wake;
        /// Looks for a dialogue for files that is not the viewer's own, aside; may be empty.
        std::function<FileChooser()> find_chooser{};
        /// Work is done before anything else goes on: for pictures and tests.
        bool wait_for_work = false;
    };
    explicit Desk(Surround around);
    Desk(const Desk&) = delete;
    Desk& operator=(const Desk&) = delete;
    ~Desk();

    /// Reads a load at once and puts it on the table.
    ///
    /// \throws InputError
    void put_on_table(const std::filesystem::path& file);
    /// The same with a scan on its own.
    ///
    /// \param folder where the body of a rough scan goes
    /// \param unit as `scan_unit` takes it; "": what the file tells, else what its size allows
    /// \return what was taken for granted, for the reader; "" for nothing
    /// \throws InputError, also where the file tells no unit and its size allows several
    std::string put_scan_on_table(const std::filesystem::path& scan, const std::filesystem::path& folder,
                                  const std::string& unit);
    /// The first screen: what was not saved when a new load was in hand, else the load opened last, else the
    /// demo.
    void begin();

    void wish(Wish wish) { wishes_.push_back(std::move(wish)); }
    [[nodiscard]] bool has_wishes() const { return !wishes_.empty(); }
    /// Grants what was wished for, looks after work that runs aside, files that change, and the turning load.
    void tick(double now_s);
    [[nodiscard]] bool ended() const { return ended_; }

    // --- the load and its answers ---
    [[nodiscard]] bool has_load() const { return session_.has_value(); }
    /// \pre has_load()
    [[nodiscard]] const Session& session() const { return *session_; }
    [[nodiscard]] const Answers& answers() const { return answers_; }
    /// Whether there is a load with an answer to show.
    [[nodiscard]] bool has_answer() const { return has_load() && answers_.any(); }
    [[nodiscard]] const Planning& planning() const { return planning_; }
    /// Whether things were moved since the plan was asked for.
    [[nodiscard]] bool plan_is_stale() const {
        return has_load() && !planning_.belongs_to(session_->revision());
    }
    [[nodiscard]] const Trimming& trimming() const { return trimming_; }
    [[nodiscard]] const Cooking& cooking() const { return cooking_; }
    [[nodiscard]] const Cloud& cloud() const { return cloud_; }
    [[nodiscard]] const Carding& carding() const { return carding_; }
    [[nodiscard]] const Weighing& weighing() const { return weighing_; }
    /// What of the load is not drawn.
    [[nodiscard]] const Hidden& hidden() const { return hidden_; }
    /// Whether things were moved since the cook was asked for.
    [[nodiscard]] bool cook_is_stale() const {
        return has_load() && !cooking_.belongs_to(session_->revision());
    }
    /// Whether a cook of the load as it sits now is about to be begun: somebody looks at the cook, things
    /// were moved, and the hands rest.
    [[nodiscard]] bool cook_is_due() const;
    /// The moment of the cook that is looked at; null: the load as written.
    [[nodiscard]] const cook::CookMoment* moment() const;
    /// What is told of the load: as it is at that moment, else the last answer. \pre has_answer()
    [[nodiscard]] const Analysis& analysis() const;
    /// The load that it belongs to. \pre has_answer()
    [[nodiscard]] const Assembly& analysed() const;
    /// Whether the load has moved on since.
    [[nodiscard]] bool stale() const { return moment() == nullptr && answers_.stale(); }
    /// What is being read, "" for nothing.
    [[nodiscard]] const std::string& reading() const { return reading_; }
    [[nodiscard]] std::pair<double, std::string> reading_progress() const { return read_job_.progress(); }

    // --- how it is looked at ---
    [[nodiscard]] const Scene& scene() const { return scene_; }
    [[nodiscard]] std::uint64_t scene_number() const { return scene_number_; }
    /// How near each surface of the cooker comes to the axis, along the rod; see axis_distance().
    [[nodiscard]] const std::vector<std::vector<Vec2>>& walls() const { return walls_; }
    /// What answers are compared with: the planned one that is being looked at, else the pinned state, else,
    /// in the cook, the load as it goes in; null for none.
    [[nodiscard]] const Analysis* compared() const;
    /// Tines that are shown through the skin, and the bone beside them; null: none.
    [[nodiscard]] const std::vector<Thing>& marked_tines() const { return marked_tines_; }
    [[nodiscard]] const ShapeMesh* marked_bone() const { return marked_bone_.get(); }
    [[nodiscard]] const Camera& camera() const { return camera_; }
    [[nodiscard]] const TurnPlay& turn() const { return turn_; }
    [[nodiscard]] const Thing& selected() const { return selected_; }
    [[nodiscard]] bool shows_envelope() const { return envelope_; }
    [[nodiscard]] bool shows_cooker() const { return cooker_; }
    /// Whether every gap is shown, not the tightest alone.
    [[nodiscard]] bool shows_gaps() const { return gaps_; }
    [[nodiscard]] const Tape& tape() const { return tape_; }
    /// The plane that cuts bodies open; nothing: they are whole.
    [[nodiscard]] const std::optional<Section>& section() const { return section_; }
    [[nodiscard]] Colouring colouring() const { return colouring_; }
    /// The part of the picture that shows the scene; "frame all" depends on it.
    void set_area(const Area& area);

    // --- what is asked and told ---
    /// The model library.
    [[nodiscard]] const std::filesystem::path& models() const { return around_.models; }
    [[nodiscard]] const Settings& settings() const { return settings_; }
    [[nodiscard]] Settings& settings() { return settings_; }
    /// Whether there is a dialogue for files that is not the viewer's own.
    [[nodiscard]] bool has_chooser() const { return static_cast<bool>(chooser_); }
    [[nodiscard]] Dialog dialog() const { return dialog_; }
    [[nodiscard]] Tab tab() const { return tab_; }
    [[nodiscard]] const std::optional<Notice>& notice() const { return notice_; }
    /// What is asked about a scan, while that dialogue is open.
    [[nodiscard]] const std::optional<ScanQuestion>& scan_question() const { return scan_question_; }
    /// A file that could not be read and is read again as soon as it changes; "" for none.
    [[nodiscard]] const std::filesystem::path& failed_file() const { return failed_file_; }
    [[nodiscard]] const std::filesystem::path& asked_file() const { return asked_file_; }
    /// Which of the first screen's three steps are done.
    [[nodiscard]] const std::array<bool, 3>& steps_done() const { return steps_done_; }
    [[nodiscard]] std::string title() const;
    /// The picture that was wished for, once.
    std::optional<SavePicture> take_picture_wish() { return std::exchange(picture_wanted_, std::nullopt); }
    /// Whether a film that is being saved is not wanted any more, once.
    bool take_film_stop() { return std::exchange(film_stopped_, false); }
    /// How many pictures of a film there are, and of how many; nothing: none is being saved.
    [[nodiscard]] const std::optional<std::pair<int, int>>& film() const { return film_; }
    void tell_film(std::optional<std::pair<int, int>> pictures) { film_ = pictures; }
    /// Tells of something done.
    void tell_word(std::string text) { tell(Notice::Kind::word, std::move(text)); }
    /// Tells of something typed that could not be understood.
    void tell_trouble(std::string text) { tell(Notice::Kind::trouble, std::move(text)); }

    // --- for whoever draws ---
    /// Whether something moves or will change by itself, so that drawing must go on.
    [[nodiscard]] bool lively() const {
        return (turn_.playing || cloud_.playing() || glide_) && has_answer();
    }
    /// Whether the eye is on its way to another stand.
    [[nodiscard]] bool glides() const { return glide_.has_value(); }
    /// Whether work runs aside whose progress is told.
    [[nodiscard]] bool works() const {
        return read_job_.running() || planning_.running() || trimming_.running() || cooking_.running() ||
               cloud_.running() || carding_.running() || weighing_.running() || cook_is_due();
    }
    /// How long nothing need be looked at, s.
    [[nodiscard]] double patience_s() const;

  private:
    struct Granter;
    void grant(const Wish& wish);

    void start_reading(std::filesystem::path file, std::function<LoadDocument(JobControl&)> work);
    void open(const std::filesystem::path& file);
    void open_demo();
    void drop(const std::filesystem::path& file, const std::string& unit = {});
    void make_load(const NewLoadAnswers& answers);
    void tell_scan(const ScanTold& told);
    void take_reading();
    void reading_failed(const std::exception& error);
    void put_on_table(LoadDocument document);
    void offer_what_was_not_saved();
    void take_plan();
    void take_trim();
    void take_cook();
    void take_weights();
    void take_card();
    void choose_file(const ChooseFile& wish);
    void take_choice();
    void tend_cook(double passed_s);
    void tend_cloud(double passed_s);
    void write_card(const std::filesystem::path& file);
    void make_scene();
    void refresh();
    /// The planned answer that is being looked at and not in force; null for none.
    [[nodiscard]] const plan::PlanAnswer* previewed() const;
    void add_ghost();
    /// The bone of an item that is nearest to those tines; null without bones.
    [[nodiscard]] SharedShape bone_beside(const std::vector<Thing>& tines, std::size_t item) const;

    /// Does something that lets go of the load: at once, or when the question about unsaved changes is
    /// answered.
    void unless_unsaved(std::function<void()> then);
    bool save_to(const std::filesystem::path& file);
    void answer(AnswerDialog::Choice choice);
    void answer_unsaved(AnswerDialog::Choice choice);
    /// Whether anything was ever moved in this load.
    [[nodiscard]] bool touched() const;
    void watch_file();
    void keep_unsaved();
    void tell(Notice::Kind kind, std::string text);
    void frame_all();
    /// The eye goes to another stand: not at once, so that one sees where it goes.
    void glide_to(const Camera& camera);
    void tend_glide();
    /// Where the eye stands, or is on its way to.
    [[nodiscard]] const Camera& camera_to_be() const { return glide_ ? glide_->to : camera_; }

    Surround around_;
    Settings settings_;
    std::vector<Wish> wishes_;
    double now_s_ = 0;
    bool ended_ = false;

    std::optional<Session> session_;
    std::filesystem::path stands_in_;  // where paths in the load count from
    Answers answers_;
    Planning planning_;
    Trimming trimming_;
    Cooking cooking_;
    std::uint64_t cook_seen_ = 0;  // the revision that was there when things were moved last
    double still_s_ = 0;           // since then
    Cloud cloud_;
    Carding carding_;
    Weighing weighing_;
    Job<LoadDocument> read_job_;
    Job<FileChooser> chooser_job_;
    FileChooser chooser_;
    Job<std::optional<std::filesystem::path>> choice_job_;
    Dialog chosen_for_ = Dialog::none;
    std::string reading_;

    SceneMaker maker_;
    Scene scene_;
    std::uint64_t scene_number_ = 0;
    std::uint64_t shown_revision_ = 0;
    std::vector<std::vector<Vec2>> walls_;
    struct Glide {
        Camera from, to;
        double begun_s = 0;
    };
    Camera camera_;
    std::optional<Glide> glide_;
    Area area_{0, 0, 800, 600};
    TurnPlay turn_;
    Thing selected_;
    Hidden hidden_;
    Tape tape_;
    std::vector<Thing> marked_tines_;
    SharedShape marked_bone_;
    Colouring colouring_ = Colouring::none;
    std::optional<Section> section_;
    std::optional<SavePicture> picture_wanted_;
    bool film_stopped_ = false;
    std::optional<std::pair<int, int>> film_;
    bool envelope_ = true, cooker_ = true, gaps_ = false, frame_wanted_ = false, scene_is_old_ = false;

    Dialog dialog_ = Dialog::none;
    Tab tab_ = Tab::findings;
    std::optional<Notice> notice_;
    std::function<void()> after_question_;
    std::filesystem::path asked_file_;
    std::filesystem::path reading_file_;  // what is being read, "" for what is no file
    std::filesystem::path failed_file_;
    std::optional<std::filesystem::file_time_type> failed_time_;
    std::optional<ScanQuestion> scan_question_;
    std::array<bool, 3> steps_done_{};
    bool leaves_after_card_ = false;

    std::optional<Sitting> recovered_;  // what was not saved in an earlier run
    std::optional<std::filesystem::file_time_type> file_time_;
    double watched_s_ = 0;
    std::uint64_t kept_revision_ = 0;
    double kept_s_ = 0;
};

}  // namespace evenspit::viewer
