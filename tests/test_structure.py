"""The rules of the house (DEVELOPERS.md, "Who may import whom"), read off the source."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
APPS = ("project", "vessels", "instruments")
PURE = (
    "vessels.shapes", "vessels.capacity", "vessels.sketch", "vessels.drawing", "vessels.field_defs",
    "vessels.vessel_fields", "vessels.shape_values", "vessels.media_library", "vessels.documents",
    "instruments.physics",
    "instruments.checks", "instruments.documents", "instruments.field_defs", "instruments.sensor_class_fields",
    "instruments.letters", "project.natural_order", "project.quantities", "project.registry", "project.documents",
)  # fmt: skip
DOCUMENTS = ("instruments.documents", "project.documents", "vessels.documents")  # may use Django's templates
STANDARD = set(sys.stdlib_module_names)
PURE_LIBRARIES = {"numpy", "scipy", "pint", "weasyprint", "pydyf", "fontTools", "cssselect2", "xlsxwriter", "iapws"}
LONGEST_FILE = 430


def modules() -> Iterator[tuple[str, Path]]:
    for app in APPS:
        for path in sorted((ROOT / app).rglob("*.py")):
            if "migrations" in path.parts:
                continue
            name = ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
            yield name, path


MODULES = dict(modules())


def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def imports(node: ast.AST) -> Iterator[str]:
    """Names of modules that a node imports, leaving out what only the type checker reads."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.If) and "TYPE_CHECKING" in ast.dump(child.test):
            continue
        if isinstance(child, ast.Import):
            yield from (alias.name for alias in child.names)
        elif isinstance(child, ast.ImportFrom):
            assert child.level == 0, "relative imports are not used"
            yield child.module or ""
            # `from package import module` imports the module too.
            yield from (
                f"{child.module}.{alias.name}" for alias in child.names if f"{child.module}.{alias.name}" in MODULES
            )
        else:
            yield from imports(child)


def starts(name: str, *prefixes: str) -> bool:
    return any(name == prefix or name.startswith(prefix + ".") for prefix in prefixes)


def names_of(*prefixes: str) -> list[str]:
    found = [name for name in MODULES if starts(name, *prefixes)]
    assert found, f"no module under {prefixes}: the rule would test nothing"
    return found


@pytest.mark.parametrize("name", names_of(*PURE))
def test_pure_modules_import_pure_modules_only(name: str) -> None:
    for imported in imports(tree(MODULES[name])):
        top = imported.split(".")[0]
        if top in APPS:
            # "from project.registry import X" also yields its package; packages themselves are empty.
            assert starts(imported, *PURE) or imported in APPS, f"{name} imports {imported}"
        elif starts(name, *DOCUMENTS) and starts(imported, "django.template"):
            continue
        else:
            assert top in STANDARD | PURE_LIBRARIES, f"{name} imports {imported}"


def test_pure_modules_load_without_django() -> None:
    """Every pure module is imported in a process in which Django cannot be (documents: only its templates)."""
    names = [name for name in names_of(*PURE) if not starts(name, *DOCUMENTS)]
    code = (
        "import sys\n"
        "class Refuse:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name.split('.')[0] == 'django': raise ImportError('django is not for pure modules')\n"
        "sys.meta_path.insert(0, Refuse())\n" + "\n".join(f"import {name}" for name in names)
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("name", names_of("vessels"))
def test_vessels_never_import_instruments(name: str) -> None:
    assert not [imported for imported in imports(tree(MODULES[name])) if starts(imported, "instruments")]


@pytest.mark.parametrize("name", [name for name in MODULES if ".models" in name or name.endswith(".models")])
def test_models_know_nothing_of_forms_views_documents(name: str) -> None:
    for imported in imports(tree(MODULES[name])):
        assert not any(part in imported.split(".") for part in ("forms", "views", "documents", "services")), imported


SERVICES = [name for name in MODULES if "services" in name.split(".")]


@pytest.mark.parametrize("name", SERVICES)
def test_services_never_see_a_request(name: str) -> None:
    for imported in imports(tree(MODULES[name])):
        assert not starts(imported, "django.http", "django.shortcuts", "django.views"), imported
        assert not {"views", "forms"} & set(imported.split(".")), imported


@pytest.mark.parametrize("name", [name for name in MODULES if ".views" in name])
def test_views_hold_no_arithmetic_and_write_through_services(name: str) -> None:
    for node in ast.walk(tree(MODULES[name])):
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult | ast.Div | ast.Pow | ast.Sub):
            pytest.fail(f"{name}:{node.lineno} computes")
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            assert node.func.attr not in ("save", "create", "bulk_create", "bulk_update", "get_or_create", "delete"), (
                f"{name}:{node.lineno} writes"
            )


@pytest.mark.parametrize("name", list(MODULES))
def test_no_star_imports_no_hidden_imports_no_signals(name: str) -> None:
    for node in ast.walk(tree(MODULES[name])):
        if isinstance(node, ast.ImportFrom):
            assert name == "project.settings_test" or all(alias.name != "*" for alias in node.names)
            if (node.module or "").startswith("django.db.models.signals") or node.module == "django.dispatch":
                assert name == "project.history", f"{name} uses signals"
        if isinstance(node, ast.FunctionDef):
            assert not list(imports(node)), f"{name}:{node.lineno} imports inside {node.name}"
        if isinstance(node, ast.ClassDef) and "models" in name:
            assert "save" not in {child.name for child in node.body if isinstance(child, ast.FunctionDef)}


@pytest.mark.parametrize("path", [*MODULES.values(), *sorted((ROOT / "tests").rglob("*.py"))], ids=str)
def test_files_stay_small(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST_FILE
