import os
from pathlib import Path

import pytest

from generator.rendering.disk import OutputRefused
from generator.rendering.ground import is_within, survey, survey_again


@pytest.fixture
def project(tmp_path: Path) -> Path:
    (tmp_path / "club" / "content" / "setups").mkdir(parents=True)
    return tmp_path / "club"


def refusal(target: Path, project: Path) -> str:
    with pytest.raises(OutputRefused) as caught:
        survey(target, source=project / "content")
    text = str(caught.value)
    assert "\n" not in text
    return text


def test_a_sibling_of_the_content_is_good_ground(project: Path) -> None:
    ground = survey(project / "site", source=project / "content")
    assert ground.target == project.resolve() / "site"
    assert {ground.new.parent, ground.old.parent, ground.lock.parent} == {ground.parent}


def test_a_site_inside_a_repository_is_good_ground(project: Path) -> None:
    (project / ".git").mkdir()
    survey(project / "site", source=project / "content")


def test_a_path_by_way_of_dots_is_resolved(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (project / "site").mkdir()
    monkeypatch.chdir(project / "site")
    assert survey(Path(), source=project / "content").target == project.resolve() / "site"
    monkeypatch.chdir(project / "content" / "setups")
    assert "is the content folder itself" in refusal(Path(".."), project)


def test_the_content_folder_is_refused(project: Path) -> None:
    assert "is the content folder itself" in refusal(project / "content", project)


def test_a_folder_that_holds_the_content_is_refused(project: Path) -> None:
    assert "holds the content folder" in refusal(project, project)
    assert "holds the content folder" in refusal(project.parent, project)


def test_a_folder_inside_the_content_is_refused(project: Path) -> None:
    assert "inside the content folder" in refusal(project / "content" / "site", project)
    assert "inside the content folder" in refusal(project / "content" / "setups" / "s", project)


def test_content_reached_by_a_link_is_known_again(project: Path) -> None:
    (project.parent / "other").symlink_to(project / "content")
    with pytest.raises(OutputRefused, match="is the content folder itself"):
        survey(project / "content", source=project.parent / "other")


def test_the_home_folder_and_what_holds_it_are_refused(
    project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (project.parent / "homes" / "me").mkdir(parents=True)
    monkeypatch.setenv("HOME", str(project.parent / "homes" / "me"))
    assert "home folder" in refusal(project.parent / "homes" / "me", project)
    assert "home folder" in refusal(project.parent / "homes", project)
    survey(project.parent / "homes" / "me" / "site", source=project / "content")


def test_the_root_of_a_repository_is_refused(project: Path) -> None:
    (project / "site" / ".git").mkdir(parents=True)
    assert "root of a repository, for it holds `.git`" in refusal(project / "site", project)


def test_a_work_tree_whose_git_is_a_file_is_refused(project: Path) -> None:
    (project / "site").mkdir()
    (project / "site" / ".git").write_text("gitdir: elsewhere")
    assert "root of a repository" in refusal(project / "site", project)


def test_a_repository_s_own_files_are_refused(project: Path) -> None:
    (project / ".git").mkdir()
    assert "repository keeps" in refusal(project / ".git" / "site", project)


def test_the_root_of_the_file_system_is_refused(project: Path) -> None:
    assert "root of the file system" in refusal(Path("/"), project)


def test_the_root_of_a_mount_is_refused(project: Path) -> None:
    if not os.path.ismount("/proc"):
        pytest.skip("no mount is known here")
    assert "root of a mount" in refusal(Path("/proc"), project)


def test_a_file_is_refused(project: Path) -> None:
    (project / "site").write_text("x")
    assert "not a folder" in refusal(project / "site", project)


def test_a_folder_that_would_have_to_be_made_first_is_refused(project: Path) -> None:
    assert "make it first" in refusal(project / "no" / "site", project)


def test_a_target_that_is_a_link_is_refused(project: Path) -> None:
    (project.parent / "elsewhere").mkdir()
    (project / "site").symlink_to(project.parent / "elsewhere")
    assert "is a link" in refusal(project / "site", project)
    (project / "dangling").symlink_to("nowhere")
    assert "is a link" in refusal(project / "dangling", project)
    (project.parent / "outside").symlink_to("elsewhere")
    assert "is a link" in refusal(project.parent / "outside", project)


def test_a_link_on_the_way_inside_the_project_is_refused(project: Path) -> None:
    (project.parent / "elsewhere" / "deep").mkdir(parents=True)
    (project / "public").symlink_to(project.parent / "elsewhere")
    assert "public is a link" in refusal(project / "public" / "site", project)
    assert "public is a link" in refusal(project / "public" / "deep" / "site", project)


def test_a_link_above_the_project_is_resolved_once(project: Path) -> None:
    (project.parent / "short").symlink_to("club")
    ground = survey(project.parent / "short" / "site", source=project / "content")
    assert ground.target == project.resolve() / "site"


def test_a_name_with_controls_is_shown_escaped(project: Path) -> None:
    (project / "a\n::error::b").write_text("x")
    assert r"a\n::error::b" in refusal(project / "a\n::error::b", project)


def test_a_target_replaced_during_the_build_is_noticed(project: Path) -> None:
    (project / "site").mkdir()
    ground = survey(project / "site", source=project / "content")
    survey_again(ground)
    (project / "site").rename(project / "away")
    with pytest.raises(OutputRefused, match="became another folder"):
        survey_again(ground)
    (project / "site").symlink_to("away")
    with pytest.raises(OutputRefused, match="became another folder"):
        survey_again(ground)


def test_a_parent_that_turned_into_a_link_is_noticed(project: Path) -> None:
    ground = survey(project / "site", source=project / "content")
    project.rename(project.parent / "moved")
    project.symlink_to("moved")
    with pytest.raises(OutputRefused, match="became another folder or a link"):
        survey_again(ground)


def test_within_counts_the_folder_itself_and_not_its_namesakes(tmp_path: Path) -> None:
    assert is_within(tmp_path / "a", tmp_path / "a")
    assert is_within(tmp_path / "a" / "b", tmp_path / "a")
    assert not is_within(tmp_path / "ab", tmp_path / "a")
