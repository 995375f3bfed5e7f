"""``python -m witnessmark`` is the command ``witnessmark``."""

from witnessmark.cli.main import main

if __name__ == "__main__":
    main()
